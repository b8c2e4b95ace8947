package transpose

import (
	"sort"

	"deskpart/musicxml"
)

// place is a point of a part in the order in which it is read.
type place struct {
	measure int
	onset   musicxml.Fraction
	order   int // of the event within the measure
}

// earlier is the order of places in time, and at one moment in the document.
func (p place) earlier(q place) bool {
	if p.measure != q.measure {
		return p.measure < q.measure
	}
	if c := p.onset.Cmp(q.onset); c != 0 {
		return c < 0
	}
	return p.order < q.order
}

// before reports whether a change at place p holds for an event at q. At one
// moment a change holds for everything but a grace note written before it.
func (p place) before(q place, grace bool) bool {
	switch c := p.onset.Cmp(q.onset); {
	case p.measure != q.measure:
		return p.measure < q.measure
	case c != 0:
		return c < 0
	}
	return p.order <= q.order || !grace
}

// places lists the places of all states, in order, one for each moment.
func (c *course) places() []place {
	var places []place
	for _, s := range c.staves {
		for i := range s {
			places = append(places, s[i].place)
		}
	}
	return sortedMoments(places)
}

// sortedMoments sorts places and keeps the first of each moment.
func sortedMoments(places []place) []place {
	sort.SliceStable(places, func(i, j int) bool { return places[i].earlier(places[j]) })
	kept := places[:0]
	for _, p := range places {
		if n := len(kept); n == 0 || kept[n-1].measure != p.measure || kept[n-1].onset != p.onset {
			kept = append(kept, p)
		}
	}
	return kept
}
