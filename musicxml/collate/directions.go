package collate

import (
	"cmp"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
	"deskpart/musicxml/music"
)

// direction notes what a <direction> says, each thing as a mark of its own. What
// is only played back is not compared: no player sees it.
func (r *transcriber) direction(marks []music.Mark) {
	var words []string
	var onset musicxml.Fraction
	tempo := false
	for i := range marks {
		m := &marks[i]
		onset = m.Onset
		switch {
		case m.Hidden:
		case m.Element.Tag == "words":
			words = append(words, musicxml.Text(m.Element))
		case m.Element.Tag == "metronome":
			tempo = r.metronome(m) || tempo
		case m.Element.Tag == "sound":
			tempo = tempo || musicxml.Attr(m.Element, "tempo") != ""
		default:
			r.directionType(m)
		}
	}
	r.words(onset, strings.Join(words, " "), tempo)
}

// words notes words by what they are about.
func (r *transcriber) words(onset musicxml.Fraction, text string, tempo bool) {
	key := plainWords(text)
	if key == "" || key == "tacet" {
		return // a silent part says so in its own way
	}
	m := mark{kind: Text, facet: "words", key: key, text: quoted(text), onset: onset}
	switch lexicon.ClassOf(text) {
	case lexicon.TempoWords, lexicon.GradualWords:
		m.kind = Tempo
	case lexicon.NavigationWords:
		m.kind = Repeats
	default:
		if tempo {
			m.kind = Tempo
		}
	}
	r.mark(m)
}

// metronome notes a metronome mark; some programs write an empty one, which says
// nothing.
func (r *transcriber) metronome(m *music.Mark) bool {
	var b strings.Builder
	for _, c := range m.Element.ChildElements() {
		switch c.Tag {
		case "beat-unit":
			if b.Len() > 0 {
				b.WriteString(" = ")
			}
			b.WriteString(musicxml.Text(c))
		case "beat-unit-dot":
			b.WriteString(" dotted")
		case "per-minute":
			b.WriteString(" = " + musicxml.Text(c))
		case "metronome-note", "metronome-relation":
			b.WriteString(" " + musicxml.Content(c))
		}
	}
	text := strings.TrimSpace(b.String())
	if text == "" || strings.HasPrefix(text, "=") {
		return false
	}
	r.mark(mark{kind: Tempo, facet: "metronome", key: text, text: text, onset: m.Onset})
	return true
}

// directionType notes everything else that a player sees.
func (r *transcriber) directionType(at *music.Mark) {
	e := at.Element
	m := mark{onset: at.Onset, facet: e.Tag}
	text := musicxml.Text(e)
	switch e.Tag {
	case "rehearsal":
		m.kind, m.key, m.text = Rehearsal, plainWords(text), "rehearsal mark "+strings.Clone(text)
	case "segno", "coda":
		m.kind, m.text = Repeats, "the "+e.Tag
	case "dynamics":
		m.kind, m.key = Dynamics, dynamicsIn(e)
		m.text = m.key
	case "wedge":
		r.wedge(m, at)
		return
	case "pedal":
		m.kind, m.facet, m.key = Text, "pedal", strings.Clone(musicxml.Attr(e, "type"))
		m.text = "the pedal mark (" + m.key + ")"
		if m.key == "continue" {
			return
		}
	case "harp-pedals", "string-mute", "damp", "damp-all", "eyeglasses", "other-direction",
		"accordion-registration", "percussion", "principal-voice", "scordatura", "symbol":
		m.kind, m.key = Text, strings.TrimSpace(musicxml.Attr(e, "type")+" "+musicxml.Content(e))
		m.text = "the " + cmp.Or(signNames[e.Tag], strings.ReplaceAll(e.Tag, "-", " "))
	default:
		return // dashes, brackets, octave lines and the like belong to what is beside them
	}
	r.mark(m)
}

// dynamicsIn writes the signs of a <dynamics>: "p", "sf p", "rfz".
func dynamicsIn(e *etree.Element) string {
	var signs []string
	for _, c := range e.ChildElements() {
		if c.Tag == "other-dynamics" {
			signs = append(signs, musicxml.Text(c))
		} else {
			signs = append(signs, c.Tag)
		}
	}
	return strings.Clone(strings.Join(signs, " "))
}

// wedge notes a hairpin at both its ends.
func (r *transcriber) wedge(m mark, at *music.Mark) {
	m.kind = Dynamics
	niente := "" // a circle at its point: from or to silence
	if musicxml.Attr(at.Element, "niente") == "yes" {
		niente = " with niente"
	}
	switch at.Role {
	case music.Starts:
		kind := strings.Clone(musicxml.Attr(at.Element, "type"))
		m.facet, m.key, m.text = "wedge start", kind+niente, "the "+kind+" hairpin"+niente
	case music.Stops:
		m.facet, m.key, m.text, m.last = "wedge end", niente, "the end of the hairpin"+niente, true
	default:
		return
	}
	m.span = r.spanOf(at)
	r.mark(m)
}

// harmony notes a chord symbol at sounding pitch.
func (r *transcriber) harmony(m *music.Mark) {
	if m.Hidden {
		return
	}
	var b strings.Builder
	for _, e := range m.Element.ChildElements() {
		switch e.Tag {
		case "root", "bass":
			b.WriteString(e.Tag + soundingLetter(e, r.signature.by.Chromatic) + " ")
		case "numeral", "function", "inversion", "degree":
			b.WriteString(musicxml.Content(e) + " ")
		case "kind":
			b.WriteString(musicxml.Text(e) + " ")
		}
	}
	r.transcript.chords = true
	r.mark(mark{kind: Chord, facet: "harmony", key: strings.TrimSpace(b.String()), text: "the chord symbol " + chordText(m.Element), onset: m.Onset})
}

// figures notes figured bass by its numbers: what a sign beside them is called changes with
// the key that a part is written in.
func (r *transcriber) figures(m *music.Mark) {
	if m.Hidden {
		return
	}
	var numbers []string
	for _, e := range musicxml.Children(m.Element, "figure") {
		if number := strings.Clone(musicxml.ChildText(e, "figure-number")); number != "" {
			numbers = append(numbers, number)
		} else {
			numbers = append(numbers, "sign")
		}
	}
	r.transcript.figures = true
	text := strings.Join(numbers, " ")
	r.mark(mark{kind: Chord, facet: "figures", key: text, text: "the figures " + text, onset: m.Onset})
}
