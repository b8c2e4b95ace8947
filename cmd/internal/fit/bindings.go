package fit

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// binding is a stretch of time within which no octave changes: a slur, a beam, a
// tuplet or another mark from note to note.
type binding struct{ from, until musicxml.Fraction }

// marks are what is bound together in a part, and where its phrases begin and end.
type marks struct {
	bindings []binding
	slurs    map[musicxml.Fraction]bool // a slur begins
	breaths  []musicxml.Fraction        // where notes begin that end a phrase, in order
}

// opened is a mark that has begun.
type opened struct{ tag, number, voice string }

// readMarks finds them.
func readMarks(t *musicxml.Timeline) marks {
	m := marks{slurs: map[musicxml.Fraction]bool{}}
	open := map[opened]musicxml.Fraction{}
	for i := range t.Measures {
		for k := range t.Measures[i].Events {
			if ev := &t.Measures[i].Events[k]; ev.Kind == musicxml.Note && !ev.Rest && !ev.Cue {
				m.note(ev, t.Measures[i].Start.Add(ev.Onset), open)
			}
		}
	}
	slices.SortFunc(m.breaths, musicxml.Fraction.Cmp)
	return m
}

// breathes reports whether a phrase ends with a note that begins at a moment or later,
// before another moment.
func (m *marks) breathes(from, before musicxml.Fraction) bool {
	i, _ := slices.BinarySearchFunc(m.breaths, from, musicxml.Fraction.Cmp)
	return i < len(m.breaths) && m.breaths[i].Less(before)
}

func (m *marks) note(ev *musicxml.Event, at musicxml.Fraction, open map[opened]musicxml.Fraction) {
	for _, beam := range musicxml.Children(ev.Element, "beam") {
		if n := musicxml.Attr(beam, "number"); n == "" || n == "1" {
			m.span(opened{"beam", "", ev.Voice}, musicxml.Text(beam), at, open)
		}
	}
	for _, notations := range musicxml.Children(ev.Element, "notations") {
		for _, e := range notations.ChildElements() {
			m.notation(e, ev, at, open)
		}
	}
}

func (m *marks) notation(e *etree.Element, ev *musicxml.Event, at musicxml.Fraction, open map[opened]musicxml.Fraction) {
	kind := musicxml.Attr(e, "type")
	switch e.Tag {
	case "slur":
		m.slurs[at] = m.slurs[at] || kind == "start"
		if kind == "stop" {
			m.breaths = append(m.breaths, at)
		}
		m.span(opened{e.Tag, musicxml.Attr(e, "number"), ev.Voice}, kind, at, open)
	case "tuplet", "glissando", "slide":
		m.span(opened{e.Tag, musicxml.Attr(e, "number"), ev.Voice}, kind, at, open)
	case "fermata":
		m.breaths = append(m.breaths, at)
	case "articulations":
		if musicxml.Child(e, "breath-mark") != nil || musicxml.Child(e, "caesura") != nil {
			m.breaths = append(m.breaths, at)
		}
	}
}

// span opens or closes a mark.
func (m *marks) span(o opened, kind string, at musicxml.Fraction, open map[opened]musicxml.Fraction) {
	switch kind {
	case "start", "begin":
		open[o] = at
	case "stop", "end":
		if from, ok := open[o]; ok {
			delete(open, o)
			m.bindings = append(m.bindings, binding{from, at})
		}
	}
}
