package collate

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// barline notes repeats, endings, signs, pauses and double bar lines.
func (r *sheetReader) barline(ev *musicxml.Event) {
	e := ev.Element
	at := ev.Onset
	switch musicxml.Attr(e, "location") {
	case "left":
		at = musicxml.Fraction{}
	case "right", "":
		at = r.measured.Length
	}
	repeat := musicxml.Child(e, "repeat")
	if repeat != nil {
		r.repeat(repeat, at)
	}
	if ending := musicxml.Child(e, "ending"); ending != nil {
		r.ending(ending, at)
	}
	for _, tag := range []string{"segno", "coda"} {
		if musicxml.Child(e, tag) != nil {
			r.mark(mark{kind: Repeats, facet: tag, text: "the " + tag, onset: at})
		}
	}
	if musicxml.Child(e, "fermata") != nil {
		r.fermata(at, at)
	}
	if repeat == nil {
		r.style(e, at)
	}
}

func (r *sheetReader) repeat(e *etree.Element, at musicxml.Fraction) {
	m := mark{kind: Repeats, facet: "repeat end", text: "the repeat sign (end)", onset: at}
	if musicxml.Attr(e, "direction") == "forward" {
		m.facet, m.text = "repeat start", "the repeat sign (start)"
	} else if times := musicxml.Attr(e, "times"); times != "" && times != "2" {
		m.key = strings.Clone(times)
		m.text += " played " + m.key + " times"
	}
	r.mark(m)
}

// ending notes a first or second ending at both its ends.
func (r *sheetReader) ending(e *etree.Element, at musicxml.Fraction) {
	number := strings.Join(strings.Fields(strings.ReplaceAll(musicxml.Attr(e, "number"), ",", " ")), ", ")
	m := mark{kind: Repeats, key: strings.Clone(number), onset: at}
	if musicxml.Attr(e, "type") == "start" {
		m.facet, m.text = "ending start", "ending "+m.key
		m.span = r.spans.start("ending")
	} else {
		m.facet, m.text, m.last = "ending end", "the end of ending "+m.key, true
		m.span = r.spans.stop("ending")
	}
	r.mark(m)
}

// lineNames are the bar lines that say something of the form of the piece.
var lineNames = map[string]string{
	"light-light": "the double bar line", "light-heavy": "the final bar line",
	"heavy-heavy": "the heavy double bar line", "heavy": "the heavy bar line",
}

// style notes a double or final bar line. One that is drawn at the left of a bar
// belongs to the end of the bar before.
func (r *sheetReader) style(e *etree.Element, at musicxml.Fraction) {
	name := lineNames[musicxml.ChildText(e, "bar-style")]
	if name == "" {
		return
	}
	m := mark{kind: Repeats, facet: "bar line", key: name, text: name, onset: at}
	if musicxml.Attr(e, "location") != "left" {
		r.mark(m)
		return
	}
	if n := len(r.sheet.bars); n > 1 {
		before := &r.sheet.bars[n-2]
		m.onset = before.length
		if k := len(before.marks); k > 0 && before.marks[k-1].facet == m.facet && before.marks[k-1].onset == m.onset {
			return
		}
		before.marks = append(before.marks, m)
	}
}

// pauses notes what stops the time on a note or rest: a fermata on it, a breath or
// caesura after it.
func (r *sheetReader) pauses(ev *musicxml.Event) {
	if ev.Chord || ev.Cue || ev.Grace {
		return
	}
	end := ev.Onset.Add(ev.Duration)
	for _, n := range musicxml.Children(ev.Element, "notations") {
		if musicxml.Child(n, "fermata") != nil {
			r.fermata(ev.Onset, end)
		}
		for _, articulations := range musicxml.Children(n, "articulations") {
			for _, tag := range []string{"caesura", "breath-mark"} {
				if musicxml.Child(articulations, tag) != nil {
					name := "the " + strings.ReplaceAll(tag, "-", " ")
					r.mark(mark{kind: Articulation, facet: tag, text: name, onset: end})
				}
			}
		}
	}
}

// fermata notes a pause over what lasts from onset to end. Two voices that pause
// at one moment pause once.
func (r *sheetReader) fermata(onset, end musicxml.Fraction) {
	if i, known := r.fermatas[onset]; known {
		m := &r.bar.marks[i]
		m.end = maxFraction(m.end, end)
		return
	}
	r.fermatas[onset] = len(r.bar.marks)
	r.mark(mark{kind: Fermata, facet: "fermata", text: "the fermata", onset: onset, end: end})
}
