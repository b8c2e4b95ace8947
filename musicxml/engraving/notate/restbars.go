package notate

import (
	"slices"

	"deskpart/musicxml/engraving"
)

// gatherRests draws the multi-bar rests that the part announces, and every run of
// at least that many empty bars (0: none), as one bar.
func (r *partReader) gatherRests(least int) {
	m := r.music
	keep := make([]int, 0, len(m.Bars))
	moved := make([]int, len(m.Bars))
	for b := 0; b < len(m.Bars); {
		n := r.restRun(b, least)
		for i := b; i < b+n; i++ {
			moved[i] = len(keep)
		}
		if n > 1 {
			m.Bars[b].RestBars, m.Bars[b].LastNumber = n, m.Bars[b+n-1].Number
			m.Bars[b].Right = m.Bars[b+n-1].Right
			m.Bars[b].Ending.Stop = m.Bars[b].Ending.Stop || m.Bars[b+n-1].Ending.Stop
			m.Bars[b].Ending.Leaves = m.Bars[b].Ending.Leaves || m.Bars[b+n-1].Ending.Leaves
			r.carryClefs(b, n)
		}
		keep = append(keep, b)
		b += n
	}
	if len(keep) < len(m.Bars) {
		keepBars(m, keep, moved)
	}
}

// restRun is the number of bars from b on that are drawn as one.
func (r *partReader) restRun(b, least int) int {
	m := r.music
	announced := r.rests[b]
	n := 0
	for b+n < len(m.Bars) && r.emptyBar(b+n) && (n == 0 || r.plainStart(b+n)) {
		n++
		if n == announced {
			return n
		}
		if m.Bars[b+n-1].Right != (engraving.Barline{}) || m.Bars[b+n-1].Ending.Stop || m.Bars[b+n-1].Ending.Leaves {
			break
		}
	}
	if announced > 1 && n > 1 || least > 0 && n >= max(2, least) {
		return n
	}
	return 1
}

// emptyBar reports whether a bar has nothing but whole-bar rests on all staves. A
// clef may change in it: it is drawn after the rest.
func (r *partReader) emptyBar(bar int) bool {
	for s := range r.music.Staves {
		measure := &r.music.Staves[s].Measures[bar]
		if measure.Repeat > 0 {
			return false
		}
		for _, c := range measure.Changes {
			if c.Onset.Sign() > 0 && !clefAlone(&c) {
				return false
			}
		}
		for _, mark := range measure.Marks {
			if mark.Onset.Sign() > 0 {
				return false
			}
		}
		for e := range measure.Events() {
			if !e.Hidden && (!e.FullBar || len(e.Articulations) > 0) {
				return false
			}
		}
	}
	return true
}

// clefAlone reports whether the change is one of clef and nothing else that is seen.
func clefAlone(c *engraving.Change) bool {
	return c.Key == nil && c.Time == nil && c.Lines == 0 && c.Barline == engraving.BarDefault
}

// plainStart reports whether nothing but a clef begins or changes at a bar's start.
func (r *partReader) plainStart(bar int) bool {
	b := &r.music.Bars[bar]
	if b.Left != (engraving.Barline{}) || b.Ending.Start || b.NewLine || r.rests[bar] > 1 {
		return false
	}
	for s := range r.music.Staves {
		measure := &r.music.Staves[s].Measures[bar]
		if len(measure.Marks) > 0 {
			return false
		}
		for _, c := range measure.Changes {
			if !c.Hidden && !clefAlone(&c) {
				return false
			}
		}
	}
	return true
}

// carryClefs moves the clefs that change within a rest of n bars to the bar after
// it; the last of them counts.
func (r *partReader) carryClefs(bar, n int) {
	for s := range r.music.Staves {
		measures := r.music.Staves[s].Measures
		var last *engraving.Clef
		for i := bar; i < bar+n; i++ {
			kept := measures[i].Changes[:0:0]
			for _, c := range measures[i].Changes {
				if c.Clef != nil && (i > bar || c.Onset.Sign() > 0) {
					last = c.Clef
					continue
				}
				kept = append(kept, c)
			}
			measures[i].Changes = kept
		}
		if last == nil || bar+n >= len(measures) {
			continue
		}
		next := &measures[bar+n]
		if !beginsWithClef(next) {
			next.Changes = append([]engraving.Change{{Clef: last}}, next.Changes...)
		}
	}
}

func beginsWithClef(measure *engraving.Measure) bool {
	return slices.ContainsFunc(measure.Changes, func(c engraving.Change) bool { return c.Clef != nil && c.Onset.Sign() <= 0 })
}

// keepBars drops the bars that a rest stands for; moved gives every old bar its
// new index.
func keepBars(m *engraving.Music, keep, moved []int) {
	m.Bars = at(m.Bars, keep)
	for s := range m.Staves {
		staff := &m.Staves[s]
		staff.Measures = at(staff.Measures, keep)
		for i := range staff.Spanners {
			sp := &staff.Spanners[i]
			sp.From.Bar, sp.To.Bar = moved[sp.From.Bar], moved[sp.To.Bar]
			for k := range sp.Changes {
				sp.Changes[k].Bar = moved[sp.Changes[k].Bar]
			}
		}
	}
}

// at are the items of a list that stand at some places of it.
func at[T any](list []T, places []int) []T {
	items := make([]T, 0, len(places))
	for _, i := range places {
		items = append(items, list[i])
	}
	return items
}
