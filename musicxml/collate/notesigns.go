package collate

import (
	"cmp"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

// signs lists what is printed at a note: articulations, ornaments, technical
// signs, the ends of slurs, dynamics, and the syllables that are sung. Of what
// reaches further, first comes what ends at the note.
func (r *transcriber) signs(n *music.Note) []mark {
	var list []mark
	for _, role := range []music.Role{music.Stops, music.Starts} {
		for i := range n.Marks {
			if m := &n.Marks[i]; m.Role == role && !m.Hidden {
				list = r.longSign(list, m)
			}
		}
	}
	for i := range n.Marks {
		if m := &n.Marks[i]; !m.Hidden {
			list = r.sign(list, m)
		}
	}
	return list
}

// longSign lists one end of a slur, glissando or slide.
func (r *transcriber) longSign(list []mark, m *music.Mark) []mark {
	tag := m.Element.Tag
	switch tag {
	case "slur", "glissando", "slide":
	default:
		return list
	}
	sign := mark{kind: Slur, facet: tag + " start", text: "the " + tag, span: r.spanOf(m)}
	if m.Role == music.Stops {
		sign.facet, sign.text, sign.last = tag+" end", "the end of the "+tag, true
	}
	return append(list, sign)
}

// sign lists what stands at the note alone.
func (r *transcriber) sign(list []mark, m *music.Mark) []mark {
	switch e := m.Element; e.Tag {
	case "lyric":
		return r.lyric(list, e)
	case "dynamics":
		text := dynamicsIn(e)
		r.mark(mark{kind: Dynamics, facet: "dynamics", key: text, text: text, onset: m.Onset})
		return list
	case "arpeggiate", "non-arpeggiate":
		return append(list, signNamed(e.Tag, ""))
	case "breath-mark", "caesura", "accidental-mark":
		return list // beside the notes; part of the sign before it
	case "wavy-line":
		if m.Role != music.Starts {
			return list
		}
	}
	switch m.Group() {
	case "articulations", "technical", "ornaments":
		return append(list, signNamed(m.Element.Tag, detail(m.Element)))
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

// lyric lists a syllable.
func (r *transcriber) lyric(list []mark, e *etree.Element) []mark {
	var text []string
	for _, c := range e.ChildElements() {
		if c.Tag == "text" {
			text = append(text, musicxml.Text(c))
		}
	}
	syllable := strings.Join(text, " ")
	if plainWords(syllable) == "" {
		return list
	}
	r.transcript.lyrics = true
	verse := cmp.Or(musicxml.Attr(e, "number"), "1")
	return append(list, mark{kind: Lyrics, facet: "lyric " + strings.Clone(verse), key: plainWords(syllable), text: quoted(syllable)})
}
