package music

import (
	"iter"
	"slices"

	"deskpart/musicxml"
)

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

// InTime lists the notes of a measure in the order of time; at one moment grace notes
// come first, and others as they stand in the document.
func (m *Measure) InTime() []*Note {
	notes := make([]*Note, len(m.Notes))
	for i := range m.Notes {
		notes[i] = &m.Notes[i]
	}
	slices.SortStableFunc(notes, (*Note).compare)
	return notes
}

// Item is one event of a measure with what was read of it.
type Item struct {
	*musicxml.Event
	Note    *Note    // of a note
	Marks   []Mark   // of a note, direction, harmony, figured bass, barline or sound
	Changes []Change // of attributes
}

// Items goes through the events of a measure in document order.
func (m *Measure) Items() iter.Seq[Item] {
	return func(yield func(Item) bool) {
		notes, marks, changes := m.Notes, m.Marks, m.Changes
		for i := range m.Events {
			item := Item{Event: &m.Events[i]}
			if len(notes) > 0 && notes[0].Event == item.Event {
				item.Note, notes = &notes[0], notes[1:]
			}
			n := 0
			for n < len(marks) && marks[n].Event == item.Event {
				n++
			}
			item.Marks, marks = marks[:n:n], marks[n:]
			n = 0
			for n < len(changes) && changes[n].Event == item.Event {
				n++
			}
			item.Changes, changes = changes[:n:n], changes[n:]
			if !yield(item) {
				return
			}
		}
	}
}
