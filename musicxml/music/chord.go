package music

import "iter"

// Chords goes through the notes of a measure by what stands on one stem: a note with
// its chord notes, or a rest, in document order.
func (m *Measure) Chords() iter.Seq[[]Note] { return chordsOf(m.Notes) }

func chordsOf(notes []Note) iter.Seq[[]Note] {
	return func(yield func([]Note) bool) {
		for from := 0; from < len(notes); {
			to := from + 1
			for to < len(notes) && notes[to].Chord {
				to++
			}
			if !yield(notes[from:to:to]) {
				return
			}
			from = to
		}
	}
}

// Voice is the line of one voice on one staff of a measure.
type Voice struct {
	Name   string
	Staff  int
	Chords [][]Note // in document order
}

// Voices lists the voices of a measure, staff by staff as they first stand in the
// document. A voice that changes staves is one on each.
func (m *Measure) Voices() []Voice {
	var voices []Voice
	for chord := range m.Chords() {
		n := &chord[0]
		at := -1
		for i := range voices {
			if voices[i].Name == n.Voice && voices[i].Staff == n.Staff {
				at = i
			}
		}
		if at < 0 {
			at = len(voices)
			voices = append(voices, Voice{Name: n.Voice, Staff: n.Staff})
		}
		voices[at].Chords = append(voices[at].Chords, chord)
	}
	return voices
}
