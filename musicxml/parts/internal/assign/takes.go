package assign

import "deskpart/musicxml"

// Take is a passage of one instrument of a percussion staff.
type Take struct {
	Instrument string // id of a score-instrument, "" for a staff of one
	From, To   musicxml.Position
}

// TakesNote reports whether a note of an instrument is one of those that the player has.
func (a *Assignment) TakesNote(instrument string, at musicxml.Position) bool {
	for _, t := range a.Takes {
		if (t.Instrument == "" || t.Instrument == instrument) && t.From.Compare(at) <= 0 && at.Compare(t.To) < 0 {
			return true
		}
	}
	return false
}

// TakesInstrument reports whether any of the passages is of an instrument.
func (a *Assignment) TakesInstrument(id string) bool {
	for _, t := range a.Takes {
		if t.Instrument == "" || t.Instrument == id {
			return true
		}
	}
	return len(a.Takes) == 0
}
