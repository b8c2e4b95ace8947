package fit

import (
	"slices"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
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

// readMarks finds them.
func readMarks(part *music.Part) marks {
	m := marks{slurs: map[musicxml.Fraction]bool{}}
	beams := map[string]musicxml.Fraction{} // where those begin that are open, by voice
	for i := range part.Notes {
		if n := &part.Notes[i]; n.Sounds() {
			m.beam(n, beams)
			for k := range n.Marks {
				m.mark(&n.Marks[k])
			}
		}
	}
	for i := range part.Spans {
		m.span(&part.Spans[i])
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

// beam binds what the eighth notes' beam holds together.
func (m *marks) beam(n *music.Note, open map[string]musicxml.Fraction) {
	for level, does := range n.Beams() {
		if level != 1 {
			continue
		}
		switch does {
		case "begin":
			open[n.Voice] = n.Start
		case "end":
			if from, ok := open[n.Voice]; ok {
				delete(open, n.Voice)
				m.bindings = append(m.bindings, binding{from, n.Start})
			}
		}
	}
}

// mark notes where a phrase begins or ends.
func (m *marks) mark(at *music.Mark) {
	switch at.Element.Tag {
	case "slur":
		m.slurs[at.Note.Start] = m.slurs[at.Note.Start] || at.Role == music.Starts
		if at.Role == music.Stops {
			m.breaths = append(m.breaths, at.Note.Start)
		}
	case "fermata", "breath-mark", "caesura":
		m.breaths = append(m.breaths, at.Note.Start)
	}
}

// span binds what a mark reaches over from note to note.
func (m *marks) span(s *music.Span) {
	if s.Start == nil || s.Stop == nil || s.Start.Note == nil || s.Stop.Note == nil {
		return
	}
	switch s.Kind {
	case "slur", "tuplet", "glissando", "slide":
		if s.Start.Note.Sounds() && s.Stop.Note.Sounds() {
			m.bindings = append(m.bindings, binding{s.Start.Note.Start, s.Stop.Note.Start})
		}
	}
}
