package collate

import (
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

// barline notes repeats, endings, signs, pauses and double bar lines.
func (r *transcriber) barline(marks []music.Mark) {
	repeats := slices.ContainsFunc(marks, func(m music.Mark) bool { return m.Element.Tag == "repeat" })
	paused := false
	for i := range marks {
		switch m := &marks[i]; m.Element.Tag {
		case "repeat":
			r.repeat(m.Element, m.Onset)
		case "ending":
			r.ending(m)
		case "segno", "coda":
			r.mark(mark{kind: Repeats, facet: m.Element.Tag, text: "the " + m.Element.Tag, onset: m.Onset})
		case "fermata":
			if !paused {
				r.fermata(m.Element, m.Onset, m.Onset)
			}
			paused = true
		case "bar-style":
			if !repeats {
				r.style(m)
			}
		}
	}
}

func (r *transcriber) repeat(e *etree.Element, at musicxml.Fraction) {
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
func (r *transcriber) ending(at *music.Mark) {
	if at.Role == music.Alone {
		return
	}
	number := strings.Join(strings.Fields(strings.ReplaceAll(musicxml.Attr(at.Element, "number"), ",", " ")), ", ")
	m := mark{kind: Repeats, key: strings.Clone(number), onset: at.Onset, span: r.spanOf(at)}
	if at.Role == music.Starts {
		m.facet, m.text = "ending start", "ending "+m.key
	} else {
		m.facet, m.text, m.last = "ending end", "the end of ending "+m.key, true
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
func (r *transcriber) style(at *music.Mark) {
	name := lineNames[musicxml.Text(at.Element)]
	if name == "" {
		return
	}
	m := mark{kind: Repeats, facet: "bar line", key: name, text: name, onset: at.Onset}
	if musicxml.Attr(at.Event.Element, "location") != "left" {
		r.mark(m)
		return
	}
	if n := len(r.transcript.bars); n > 1 {
		before := &r.transcript.bars[n-2]
		m.onset = before.length
		if k := len(before.marks); k > 0 && before.marks[k-1].facet == m.facet && before.marks[k-1].onset == m.onset {
			return
		}
		before.marks = append(before.marks, m)
	}
}

// pauses notes what stops the time on a note or rest: a fermata on it, a breath or
// caesura after it.
func (r *transcriber) pauses(n *music.Note) {
	if n.Chord || n.Cue || n.Grace {
		return
	}
	end := n.Onset.Add(n.Duration)
	for i := range n.Marks {
		switch tag := n.Marks[i].Element.Tag; tag {
		case "fermata":
			r.fermata(n.Marks[i].Element, n.Onset, end)
		case "caesura", "breath-mark":
			name := "the " + strings.ReplaceAll(tag, "-", " ")
			r.mark(mark{kind: Articulation, facet: tag, text: name, onset: end})
		}
	}
}

// fermata notes a pause over what lasts from onset to end. Two voices that pause
// at one moment pause once. A square one is longer, a triangle shorter (MusicXML 4.0,
// fermata-shape).
func (r *transcriber) fermata(e *etree.Element, onset, end musicxml.Fraction) {
	if i, known := r.fermatas[onset]; known {
		m := &r.bar.marks[i]
		m.end = m.end.Max(end)
		return
	}
	r.fermatas[onset] = len(r.bar.marks)
	m := mark{kind: Fermata, facet: "fermata", text: "the fermata", onset: onset, end: end}
	if shape := musicxml.Text(e); shape != "normal" && shape != "" {
		m.key, m.text = strings.Clone(shape), "the "+shape+" fermata"
	}
	r.mark(m)
}
