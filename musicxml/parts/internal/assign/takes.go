package assign

import (
	"slices"

	"deskpart/musicxml"
)

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

func (t *Take) isOf(instrument string) bool { return t.Instrument == "" || t.Instrument == instrument }

// TakesNote reports whether a note of an instrument is one of those that the player has.
func (a *Assignment) TakesNote(instrument string, at musicxml.Position) bool {
	return slices.ContainsFunc(a.Takes, func(t Take) bool {
		return t.isOf(instrument) && t.From.Compare(at) <= 0 && at.Compare(t.To) < 0
	})
}

// TakesMark reports whether what is said of the staff at a place is said to the player: in a
// passage, or in the rest before it.
func (a *Assignment) TakesMark(at musicxml.Position) bool {
	return slices.ContainsFunc(a.Takes, func(t Take) bool {
		return at.Compare(t.From) < 0 && t.Since.Compare(at) < 0 || t.From.Compare(at) <= 0 && (t.Last || at.Compare(t.To) <= 0)
	})
}

// TakesInstrument reports whether any of the passages is of an instrument.
func (a *Assignment) TakesInstrument(id string) bool {
	return len(a.Takes) == 0 || slices.ContainsFunc(a.Takes, func(t Take) bool { return t.isOf(id) })
}
