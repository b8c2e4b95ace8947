package transpose

import (
	"math"
	"slices"
	"sort"

	"deskpart/musicxml"
)

// position is a point of a part in the order in which it is read.
type position struct {
	measure int
	onset   musicxml.Fraction
	order   int // of the event within the measure
}

// last is where all changes of the moment hold: for what is no change and no grace note.
func (p position) last() position {
	p.order = math.MaxInt
	return p
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

// graces are the grace notes of each moment that has any, in the document's order.
type graces map[musicxml.Position][]graceAt

type graceAt struct{ order, staff int }

// before is how many grace notes of its moment stand before a position.
func (g graces) before(p position) int {
	notes := g[p.moment()]
	return sort.Search(len(notes), func(i int) bool { return notes[i].order >= p.order })
}

// part reports whether a grace note of a staff, 0 for any, stands between two places of a
// moment, or at the first.
func (g graces) part(moment musicxml.Position, from, to, staff int) bool {
	return slices.ContainsFunc(g[moment], func(n graceAt) bool {
		return n.order >= from && n.order < to && (staff == 0 || n.staff == staff)
	})
}

// positions lists the positions of all states, in order, one for those that no grace note
// parts.
func (c *states) positions() []position {
	var positions []position
	for _, s := range c.staves {
		for i := range s {
			positions = append(positions, s[i].position)
		}
	}
	sort.SliceStable(positions, func(i, j int) bool { return positions[i].earlier(positions[j]) })
	kept := positions[:0]
	for _, p := range positions {
		if n := len(kept); n == 0 || kept[n-1].moment() != p.moment() || c.graces.part(p.moment(), kept[n-1].order, p.order, 0) {
			kept = append(kept, p)
		}
	}
	return kept
}
