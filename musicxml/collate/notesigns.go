package collate

import (
	"cmp"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/transpose"
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
			list = r.sign(list, n, m)
		}
	}
	return list
}

// longSign lists one end of a slur, glissando, slide or wavy line.
func (r *transcriber) longSign(list []mark, m *music.Mark) []mark {
	tag, kind := m.Element.Tag, Slur
	switch tag {
	case "slur", "glissando", "slide":
	case "wavy-line":
		kind = Articulation
	default:
		return list
	}
	sign := mark{kind: kind, facet: tag + " start", text: "the " + nameOf(tag), span: r.spanOf(m)}
	if m.Role == music.Stops {
		sign.facet, sign.text, sign.last = tag+" end", "the end of the "+nameOf(tag), true
	}
	return append(list, sign)
}

// sign lists what stands at the note alone.
func (r *transcriber) sign(list []mark, n *music.Note, m *music.Mark) []mark {
	e := m.Element
	switch e.Tag {
	case "lyric":
		return r.lyric(list, e)
	case "dynamics":
		text := dynamicsIn(e)
		r.mark(mark{kind: Dynamics, facet: "dynamics", key: text, text: text, onset: m.Onset})
		return list
	case "arpeggiate", "non-arpeggiate":
		detail := musicxml.Attr(e, "direction")
		if detail == "up" {
			detail = "" // as without an arrow
		}
		return append(list, signNamed(e.Tag, detail))
	case "tied":
		if musicxml.Attr(e, "type") == "let-ring" {
			return append(list, signNamed("let-ring", ""))
		}
	case "other-notation":
		if m.Role != music.Stops {
			return append(list, signNamed(e.Tag, musicxml.Text(e)))
		}
	case "accidental-mark":
		if m.Group() == "notations" {
			return append(list, markOfNote(n, e))
		}
		return list // part of the ornament before it
	case "breath-mark", "caesura", "wavy-line":
		return list // beside the notes; long
	}
	switch m.Group() {
	case "articulations", "technical":
		return append(list, signNamed(e.Tag, detail(e)))
	case "ornaments":
		sign := signNamed(e.Tag, detail(e))
		if !n.Unpitched {
			var text string
			sign.beside, text = r.auxiliariesOf(n, e)
			sign.text += text
		}
		return append(list, sign)
	}
	return list
}

// markOfNote is an editor's accidental over a note. Which one it is follows from the
// note, and differs where it is another.
func markOfNote(n *music.Note, e *etree.Element) mark {
	m := mark{kind: Articulation, facet: e.Tag, text: "the accidental over the note"}
	if value, known := transpose.AccidentalValue(musicxml.Text(e)); known && value != n.Pitch.Alter {
		m.key = (value - n.Pitch.Alter).String()
		m.text = "an accidental over the note that is not the note's"
	}
	return m
}

// headOf is what a notehead of its own is called. The shape of the fourth degree only
// follows the stem.
func headOf(n *music.Note) string {
	if n.Notehead == nil {
		return ""
	}
	var words []string
	if musicxml.Attr(n.Notehead, "parentheses") == "yes" {
		words = append(words, "bracketed")
	}
	switch filled, hollow := musicxml.Attr(n.Notehead, "filled"), !n.Duration.Less(half); {
	case filled == "yes" && hollow:
		words = append(words, "filled")
	case filled == "no" && !hollow:
		words = append(words, "hollow")
	}
	switch shape := musicxml.Text(n.Notehead); shape {
	case "normal":
	case "fa up":
		words = append(words, "fa")
	default:
		words = append(words, shape)
	}
	return strings.Clone(strings.Join(words, " "))
}

// half is a half note, from which on noteheads are hollow.
var half = musicxml.NewFraction(2, 1)

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
	"non-arpeggiate": "non-arpeggio bracket", "let-ring": "tie that rings on", "other-notation": "sign",
	"string-mute": "mute sign", "percussion": "pictogram", "principal-voice": "sign of the principal voice",
}

func signNamed(tag, detail string) mark {
	name := strings.TrimSpace(nameOf(tag) + " " + detail)
	return mark{kind: Articulation, facet: "sign", key: strings.Clone(tag + " " + detail), text: "the " + name}
}

func nameOf(tag string) string {
	return cmp.Or(signNames[tag], strings.ReplaceAll(tag, "-", " "))
}

// lyric lists a syllable.
func (r *transcriber) lyric(list []mark, e *etree.Element) []mark {
	var text []string
	for _, c := range e.ChildElements() {
		switch c.Tag {
		case "text":
			text = append(text, musicxml.Text(c))
		case "humming", "laughing":
			text = append(text, c.Tag)
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
