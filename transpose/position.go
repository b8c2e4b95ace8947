package transpose

import (
	"sort"

	"deskpart/musicxml"
)

// position is a point of a part in the order in which it is read.
type position struct {
	measure int
	onset   musicxml.Fraction
	order   int // of the event within the measure
}

// moment is the place without its order in the document.
func (p position) moment() musicxml.Position {
	return musicxml.Position{Measure: p.measure, Onset: p.onset}
}

// earlier is the order of positions in time, and at one moment in the document.
func (p position) earlier(q position) bool {
	if p.measure != q.measure {
		return p.measure < q.measure
	}
	if p.onset != q.onset {
		return p.onset.Less(q.onset)
	}
	return p.order < q.order
}

// before reports whether a change at position p holds for an event at q. At one
// moment a change holds for everything but a grace note written before it.
func (p position) before(q position, grace bool) bool {
	switch {
	case p.measure != q.measure:
		return p.measure < q.measure
	case p.onset != q.onset:
		return p.onset.Less(q.onset)
	}
	return p.order <= q.order || !grace
}

// positions lists the positions of all states, in order, one for each moment.
func (c *states) positions() []position {
	var positions []position
	for _, s := range c.staves {
		for i := range s {
			positions = append(positions, s[i].position)
		}
	}
	return sortedMoments(positions)
}

// sortedMoments sorts positions and keeps the first of each moment.
func sortedMoments(positions []position) []position {
	sort.SliceStable(positions, func(i, j int) bool { return positions[i].earlier(positions[j]) })
	kept := positions[:0]
	for _, p := range positions {
		if n := len(kept); n == 0 || kept[n-1].moment() != p.moment() {
			kept = append(kept, p)
		}
	}
	return kept
}
