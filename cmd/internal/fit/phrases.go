package fit

import (
	"deskpart/musicxml"
	"deskpart/musicxml/parts/octaves"
)

// phrases cuts a line of the music where its octave may change.
func (m *Music) phrases(line Line) []octaves.Phrase {
	notes := make([]octaves.Note, len(line))
	for i := range line {
		n := &line[i]
		notes[i] = octaves.Note{At: musicxml.Position{Measure: n.Index, Onset: n.Onset}, Start: n.Start, End: n.end(), Sound: n.midi(), Elsewhere: n.Elsewhere}
	}
	phrases, _ := m.marks.Cut(notes)
	return phrases
}
