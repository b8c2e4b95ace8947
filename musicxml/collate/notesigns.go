package collate

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/reading"
)

// signs lists what is printed at a note: articulations, ornaments, technical
// signs, the ends of slurs, dynamics, and the syllables that are sung.
func (r *sheetReader) signs(n *reading.Note) []mark {
	var list []mark
	for _, e := range n.Element.ChildElements() {
		switch e.Tag {
		case "notations":
			list = r.notations(list, n, e)
		case "lyric":
			list = r.lyric(list, e)
		}
	}
	return list
}

func (r *sheetReader) notations(list []mark, n *reading.Note, notations *etree.Element) []mark {
	if musicxml.Attr(notations, "print-object") == "no" {
		return list
	}
	list = r.longSigns(list, notations)
	for _, e := range notations.ChildElements() {
		switch e.Tag {
		case "articulations", "technical", "ornaments":
			list = r.groupOfSigns(list, e)
		case "arpeggiate", "non-arpeggiate":
			list = append(list, signNamed(e.Tag, ""))
		case "dynamics":
			m := mark{kind: Dynamics, facet: "dynamics", key: dynamicsIn(e), onset: n.Onset}
			m.text = m.key
			b := &r.sheet.bars[n.MeasureIndex]
			b.marks = append(b.marks, m)
		}
	}
	return list
}

// longSigns lists the ends of slurs, glissandi and slides: first those that end at
// the note, for the next may have the same number.
func (r *sheetReader) longSigns(list []mark, notations *etree.Element) []mark {
	for _, end := range []string{"stop", "start"} {
		for _, e := range notations.ChildElements() {
			switch e.Tag {
			case "slur", "glissando", "slide":
				if musicxml.Attr(e, "type") == end {
					list = append(list, r.longSign(e))
				}
			}
		}
	}
	return list
}

// groupOfSigns lists the children of an <articulations>, <technical> or
// <ornaments>.
func (r *sheetReader) groupOfSigns(list []mark, group *etree.Element) []mark {
	for _, e := range group.ChildElements() {
		switch e.Tag {
		case "breath-mark", "caesura", "accidental-mark":
			continue // beside the notes; part of the sign before it
		case "wavy-line":
			if musicxml.Attr(e, "type") != "start" {
				continue
			}
		}
		list = append(list, signNamed(e.Tag, detail(e)))
	}
	return list
}

// detail is what tells two signs of one name apart: the finger, the string, the
// strokes of a tremolo.
func detail(e *etree.Element) string {
	text := musicxml.Text(e)
	if e.Tag == "tremolo" {
		return strings.TrimSpace(text + " " + musicxml.Attr(e, "type"))
	}
	for _, c := range e.ChildElements() {
		text = strings.TrimSpace(text + " " + c.Tag + " " + musicxml.Text(c))
	}
	return text
}

// signNames are the names of signs whose element is called otherwise.
var signNames = map[string]string{
	"strong-accent": "marcato", "detached-legato": "portato", "trill-mark": "trill", "arpeggiate": "arpeggio sign",
	"non-arpeggiate": "non-arpeggio bracket", "wavy-line": "wavy line", "tenuto": "tenuto",
}

func signNamed(tag, detail string) mark {
	name := signNames[tag]
	if name == "" {
		name = strings.ReplaceAll(tag, "-", " ")
	}
	name = strings.TrimSpace(name + " " + detail)
	return mark{kind: Articulation, facet: "sign", key: strings.Clone(tag + " " + detail), text: "the " + name}
}

func (r *sheetReader) longSign(e *etree.Element) mark {
	name := e.Tag + musicxml.Attr(e, "number")
	if musicxml.Attr(e, "type") == "stop" {
		return mark{kind: Slur, facet: e.Tag + " end", text: "the end of the " + e.Tag, last: true, span: r.spans.stop(name)}
	}
	return mark{kind: Slur, facet: e.Tag + " start", text: "the " + e.Tag, span: r.spans.start(name)}
}

// lyric lists a syllable.
func (r *sheetReader) lyric(list []mark, e *etree.Element) []mark {
	var text []string
	for _, c := range e.ChildElements() {
		if c.Tag == "text" {
			text = append(text, musicxml.Text(c))
		}
	}
	syllable := strings.Join(text, " ")
	if plainWords(syllable) == "" || musicxml.Attr(e, "print-object") == "no" {
		return list
	}
	r.sheet.lyrics = true
	verse := musicxml.Attr(e, "number")
	if verse == "" {
		verse = "1"
	}
	return append(list, mark{kind: Lyrics, facet: "lyric " + strings.Clone(verse), key: plainWords(syllable), text: quoted(syllable)})
}
