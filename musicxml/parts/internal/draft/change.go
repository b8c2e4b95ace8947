package draft

import (
	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/assign"
)

// InstrumentChange is the place from which the player goes on with another
// instrument: the first note that is played on it.
type InstrumentChange struct {
	musicxml.Position
	Instrument *instruments.Instrument
	// Announced is where the score says so.
	Announced musicxml.Position
	Named     bool // the instrument's name stands at the entry
	// Silence is how long the player rests before it, in quarter notes.
	Silence musicxml.Fraction
}

// InstrumentAt is the instrument that the player has at a place.
func (s *Draft) InstrumentAt(at musicxml.Position) *instruments.Instrument {
	in := s.Assignment.Instrument
	for i := range s.Changes {
		if s.Changes[i].Compare(at) <= 0 {
			in = s.Changes[i].Instrument
		}
	}
	return in
}

// OtherInstrument reports whether the plan gives the part to an instrument that
// the score does not name.
func (s *Draft) OtherInstrument() bool {
	return s.Assignment.RecognisedBy == assign.ByPlan && s.Assignment.Instrument != s.Assignment.Written
}

// NamesChange reports whether a direction is one that MarkWords was given.
func (s *Draft) NamesChange(direction *etree.Element) bool { return s.named[direction] }

// MarkWords remembers a direction as one that tells of a change.
func (s *Draft) MarkWords(direction *etree.Element) {
	if direction == nil {
		return
	}
	if s.named == nil {
		s.named = map[*etree.Element]bool{}
	}
	s.named[direction] = true
}
