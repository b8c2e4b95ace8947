package plan

import (
	"strconv"

	"deskpart/instruments"
	"deskpart/musicxml"
)

// Assignment is one part file to be made: a part of the score for an instrument.
type Assignment struct {
	Part         int // index among the score's parts
	Number       int // place of the file, counted from 1 in score order
	ID           string
	Name         string                  // as in the score
	Label        string                  // as the sheet is headed
	StaffLabel   string                  // as it would be headed without With
	Instrument   *instruments.Instrument // nil where it was not recognised
	RecognisedBy string
	Assumed      bool
	Player       int // 1, 2 … of a shared staff; 0 for the whole staff
	PlayerCount  int
	// Written is the instrument that the score has the part for, nil where it was not
	// recognised.
	Written *instruments.Instrument
	// Numbers are those of the players, as the names say them; none where they say none.
	Numbers []int
	Octave  string // of the plan: whole octaves added to the sound, or "auto"
	Clef    string // of the plan
	Copies  int    // of the plan: how many are printed; 0: as usual, one
	Desk    string // who plays it, as the plan says; "" where it says nothing
	// Edition is the reader that the file is for, by name, in a set with an edition for
	// every reader; else "".
	Edition string
	// StandsFor is the label of the file for the instrument of the score, where this one
	// is for an instrument that commonly stands in for it; else "".
	StandsFor string
	// With are the further staves of the score that the same player has; the part is made
	// of all of them.
	With []Assignment
	// Some: not every note of the staves is in the part. It has some passages of the
	// percussion, or is a staff that several players share.
	Some     bool
	Warnings []musicxml.Warning
}

// PlayerID names the player in a plan: the part's id, a colon, and the player's place
// on a shared staff, counted from 1. It is the part's id for a whole part.
func (a *Assignment) PlayerID() string {
	if a.Player == 0 {
		return a.ID
	}
	return a.ID + ":" + strconv.Itoa(a.Player)
}

// PartIDs are the ids of the score's parts that the player has; none of a tacet sheet's.
func (a *Assignment) PartIDs() []string {
	if a.ID == "" {
		return nil
	}
	ids := []string{a.ID}
	for _, further := range a.With {
		ids = append(ids, further.ID)
	}
	return ids
}
