package musicxml

import "cmp"

// Position is a place in time: a moment of a measure.
type Position struct {
	Measure int      // from 0
	Onset   Fraction // in quarter notes from the start of the measure
}

// Compare returns a number below 0 where p comes before q, 0 where they are the same
// place, and one above 0 where p comes after q.
func (p Position) Compare(q Position) int {
	if p.Measure != q.Measure {
		return cmp.Compare(p.Measure, q.Measure)
	}
	return p.Onset.Cmp(q.Onset)
}
