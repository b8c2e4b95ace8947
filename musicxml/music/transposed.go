package music

import (
	"slices"
	"sort"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// transpose gives every note the transposition in force.
func (p *Part) transpose() error {
	t := transposer{staves: make([]transposedStaff, p.Staves+1)}
	for i := range p.Measures {
		if err := t.measure(&p.Measures[i]); err != nil {
			return err
		}
	}
	return nil
}

// transposer follows the transposition of every staff, counted from 1.
type transposer struct {
	staves []transposedStaff
	moved  bool // there is a transposition in this measure
}

type transposedStaff struct {
	by     pitch.Interval // at the start of the measure
	fifths int            // of the signature, which settles the spelling of some
	within []shift        // in this measure
}

// shift is a transposition from a place in a measure on.
type shift struct {
	change *Change
	by     pitch.Interval
}

func (t *transposer) measure(m *Measure) error {
	for i := range m.Changes {
		if err := t.change(m, &m.Changes[i]); err != nil {
			return err
		}
	}
	if t.moved {
		t.order()
	}
	next := 0
	for order := range m.Events {
		if m.Events[order].Kind == musicxml.Note {
			n := &m.Notes[next]
			n.By = t.staff(n.Staff).at(n, order)
			next++
		}
	}
	if t.moved {
		t.settle()
	}
	return nil
}

// order puts the transpositions of a measure in the order of time.
func (t *transposer) order() {
	for i := range t.staves {
		slices.SortStableFunc(t.staves[i].within, func(a, b shift) int { return a.change.Onset.Cmp(b.change.Onset) })
	}
}

// staff is that of a number; one that the part does not have reads as the last.
func (t *transposer) staff(number int) *transposedStaff {
	return &t.staves[min(max(number, 1), len(t.staves)-1)]
}

// change takes up a signature or a transposition.
func (t *transposer) change(m *Measure, c *Change) error {
	switch c.Element.Tag {
	case "key":
		if k, err := ReadKey(c.Element); err == nil {
			for staff := range t.each(c) {
				staff.fifths = k.Fifths
			}
		}
	case "transpose":
		t.moved = true
		for staff := range t.each(c) {
			by, err := ReadTransposition(c.Element, staff.fifths)
			if err != nil {
				return &musicxml.Error{Measure: m.Number, Beat: m.Beat(c.Onset), Code: notice.NoMusic, Err: err}
			}
			staff.within = append(staff.within, shift{c, by.Interval()})
		}
	}
	return nil
}

// each goes through the staves that a change is for.
func (t *transposer) each(c *Change) func(func(*transposedStaff) bool) {
	return func(yield func(*transposedStaff) bool) {
		for number := 1; number < len(t.staves); number++ {
			if c.For(number) && !yield(&t.staves[number]) {
				return
			}
		}
	}
}

// at is what holds for a note, whose event is the measure's of that order.
func (s *transposedStaff) at(n *Note, order int) pitch.Interval {
	if len(s.within) == 0 {
		return s.by
	}
	before := sort.Search(len(s.within), func(i int) bool { return !s.within[i].change.holdsFor(n, order) })
	if before == 0 {
		return s.by
	}
	return s.within[before-1].by
}

// settle takes over what holds at the end of the measure.
func (t *transposer) settle() {
	t.moved = false
	for i := range t.staves {
		s := &t.staves[i]
		if len(s.within) > 0 {
			s.by, s.within = s.within[len(s.within)-1].by, s.within[:0]
		}
	}
}
