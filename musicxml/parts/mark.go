package parts

import "deskpart/musicxml"

// mark is something in one part that holds for all players.
type mark struct {
	measure int
	onset   musicxml.Fraction
}

// road is what all parts share: the marks of the system, gathered from every
// part.
type road struct{}

// newRoad joins the marks of all parts.
func newRoad([]Survey) *road { return &road{} }

// gatherMarks finds the marks of the whole system in one part.
func gatherMarks(*musicxml.Timeline) []mark { return nil }
