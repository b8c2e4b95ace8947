package transpose

import (
	"slices"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// heldNote waits for the note that a tie leads to. Both ways of reading a part
// share its sound, whatever its spelling.
type heldNote struct {
	sound pitch.Alter
	until musicxml.Fraction // from the start of the piece
	voice string
	staff int
	move  pitch.Interval
}

// moveAcrossChanges moves the notes of a part whose interval changes on the way.
// A note tied over such a place keeps the interval of the note it is tied to, so
// that both ends are spelled alike; the way back does the same, and so stays
// exact.
func (m *mover) moveAcrossChanges() {
	var held []heldNote
	for i := range m.bars {
		b := &m.bars[i]
		for _, k := range b.reading {
			n := &b.notes[k]
			move := n.state.move
			if h := heldInto(held, n); h >= 0 {
				if held[h].move.Chromatic == move.Chromatic {
					move = held[h].move
				}
				held = slices.Delete(held, h, h+1)
			}
			if n.tieStart {
				held = append(forgetBefore(held, n.start), heldNote{n.sound(), n.start.Add(n.event.Duration), n.event.Voice, n.event.Staff, move})
			}
			n.pitch = move.Apply(n.source)
		}
	}
}

// sound is the note's sounding pitch.
func (n *note) sound() pitch.Alter {
	return n.source.MIDI() + pitch.Semitones(n.state.source.Interval().Chromatic)
}

// heldInto finds the held note that a tied note goes on with: of its own voice
// and staff if there is one, else of any. It returns −1 where there is none.
func heldInto(held []heldNote, n *note) int {
	found := -1
	if !n.tieStop {
		return found
	}
	sound := n.sound()
	for i, h := range held {
		if h.sound != sound || h.until != n.start {
			continue
		}
		if h.voice == n.event.Voice && h.staff == n.event.Staff {
			return i
		}
		if found < 0 {
			found = i
		}
	}
	return found
}

// forgetBefore drops the ties whose second note did not come.
func forgetBefore(held []heldNote, now musicxml.Fraction) []heldNote {
	return slices.DeleteFunc(held, func(h heldNote) bool { return h.until.Less(now) })
}
