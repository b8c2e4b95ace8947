package assign

import "deskpart/musicxml"

// Take is a passage of one instrument of a percussion staff.
type Take struct {
	Instrument string // id of a score-instrument, "" for a staff of one
	From, To   musicxml.Position
	// Since is where the last passage of the staff ended before this one, before its first bar
	// where there is none: what is said from there on prepares this one.
	Since musicxml.Position
	// Last: no passage of the staff ends later, and what is said behind it is its player's.
	Last bool
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

// TakesMark reports whether what is said of the staff at a place is said to the player: in a
// passage, or in the rest before it.
func (a *Assignment) TakesMark(at musicxml.Position) bool {
	for _, t := range a.Takes {
		if at.Compare(t.From) < 0 && t.Since.Compare(at) < 0 || t.From.Compare(at) <= 0 && (t.Last || at.Compare(t.To) <= 0) {
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
