package collate

import "slices"

// sharesStaff reports whether a part looks like one player's of the staff that it
// was matched with: its numbers are some of the staff's, or it has fewer notes.
func sharesStaff(l *Part, t *staff) bool {
	if l.transcript == nil || t == nil {
		return false
	}
	return numbersWithin(l, t) || contentOf(l, t) < likeEnough && l.transcript.notes < t.transcript.notes
}

// likeEnough is the likeness from which on a part is the staff's, faults aside.
const likeEnough = 0.9

// needsPlayers reports whether some part may be one player's of a shared staff.
func needsPlayers(given []*Part, staves []*staff) bool {
	seen := map[*staff]bool{}
	for i, l := range given {
		if sharesStaff(l, staves[i]) || staves[i] != nil && seen[staves[i]] {
			return true
		}
		seen[staves[i]] = true
	}
	return false
}

// asPlayer prepares a comparison for a part that is one player's of a shared staff.
// The score rarely says of every note who plays it, so that such a part also
// agrees where it has other notes of the staff than the copyist would have given
// it, as long as the players together have them all. shared: its name or another
// file says that the staff is shared.
func (c *comparison) asPlayer(l *Part, t *staff, shared bool) {
	switch {
	case t.whole != nil:
		c.whole = t.whole.transcript
	case shared && sharesStaff(l, t) && containedShare(t.transcript, l.transcript, c.moved()) >= likeEnough:
		c.whole, c.partial = t.transcript, true
	}
}

// numbersWithin reports whether a part is for some of the players that a staff is
// for, by their names.
func numbersWithin(l *Part, t *staff) bool {
	a, b := l.match.Players, t.match.Players
	return len(a) > 0 && len(a) < len(b) && isWithin(a, b)
}

// containedShare is how much of a part's notes is in the staff, bar by bar.
func containedShare(want, got *transcript, moved int) float64 {
	inside := 0
	for _, s := range alignBars(want.bars, got.bars, moved, true) {
		if s.want >= 0 && s.got >= 0 {
			inside += common(printOf(&want.bars[s.want], 0).notes, printOf(&got.bars[s.got], moved).notes)
		}
	}
	if got.notes == 0 {
		return 0
	}
	return float64(inside) / float64(got.notes)
}

// othersLine compares a bar with what else its player may have: any notes of the
// staff, but not the expected line with holes in it.
func (b *barComparison) othersLine(bar int) {
	if b.whole == nil || bar >= len(b.whole.bars) {
		return
	}
	all := &b.whole.bars[bar]
	want, got := printOf(b.want, 0), printOf(b.got, b.moved())
	staff := printOf(all, 0)
	hole := len(got.notes) > 0 && len(got.notes) < len(want.notes) && within(got.notes, want.notes)
	if want.hash == got.hash || !within(got.notes, staff.notes) || hole && !b.partial {
		return
	}
	b.excusedBars[bar] = true
	alone := *b.want
	alone.notes = b.answered(all)
	b.want, b.excused = &alone, true
}

// within reports whether each of a sorted list is in another; doubled ones once.
func within(a, b []uint64) bool {
	return !slices.ContainsFunc(a, func(h uint64) bool {
		_, found := slices.BinarySearch(b, h)
		return !found
	})
}

// answered are the notes of the staff that the part's notes answer.
func (b *barComparison) answered(all *bar) []note {
	var notes []note
	for k := range b.got.notes {
		g := &b.got.notes[k]
		h := mix(rhythmHash(g), heightHash(g, b.moved()))
		for i := range all.notes {
			if w := &all.notes[i]; mix(rhythmHash(w), heightHash(w, 0)) == h {
				notes = append(notes, *w)
				break
			}
		}
	}
	return notes
}

// staffHas reports whether a mark stands in the shared staff in that bar.
func (c *comparison) staffHas(bar int, m *mark) bool {
	if c.whole == nil || bar < 0 || bar >= len(c.whole.bars) {
		return false
	}
	b := &c.whole.bars[bar]
	if slices.ContainsFunc(b.marks, func(o mark) bool { return sameMark(m, &o) }) {
		return true
	}
	return slices.ContainsFunc(b.notes, func(n note) bool {
		return slices.ContainsFunc(n.signs, func(o mark) bool { return sameMark(m, &o) })
	})
}

// cover says which notes of a shared staff no player's part has, in bars where a
// part has other notes than the copyist would have given it. All its players'
// parts must be there.
func cover(group []*comparison) {
	if len(group) < 2 {
		return
	}
	first := group[0]
	for bar := range first.whole.bars {
		if slices.ContainsFunc(group, func(c *comparison) bool { return c.excusedBars[bar] }) {
			coverBar(group, bar)
		}
	}
}

func coverBar(group []*comparison, at int) {
	var have []uint64
	var blamed *comparison
	for _, c := range group {
		got := c.answer(at)
		if got == nil || c.faultyBars[at] {
			return // what is wrong there has been said
		}
		have = append(have, printOf(got, c.moved()).notes...)
		if blamed == nil && c.excusedBars[at] {
			blamed = c
		}
	}
	slices.Sort(have)
	all := &blamed.whole.bars[at]
	for i := range all.notes {
		n := &all.notes[i]
		if _, found := slices.BinarySearch(have, mix(rhythmHash(n), heightHash(n, 0))); found {
			continue
		}
		blamed.missNobodys(at, n)
	}
}

// answer is the part's bar for one of the score, nil where it has none.
func (c *comparison) answer(bar int) *bar {
	for _, s := range c.steps {
		if s.want == bar && s.got >= 0 {
			return &c.got.bars[s.got]
		}
	}
	return nil
}

func (c *comparison) missNobodys(at int, n *note) {
	step := slices.IndexFunc(c.steps, func(s step) bool { return s.want == at })
	got := c.answer(at)
	if got == nil {
		return
	}
	b := barComparison{comparison: c, step: step, want: &c.whole.bars[at], got: got}
	b.find(n.onset, Missing, "", b.wantText(n)+" (in no player's part)")
}

// groups gathers the comparisons of the parts that share a staff, where every
// player's part is there.
func groups(comparisons []*comparison, staves []*staff, players []*staff) [][]*comparison {
	byWhole := map[*staff][]*comparison{}
	var order []*staff
	taken := map[*staff]bool{}
	for i, c := range comparisons {
		if c == nil || c.whole == nil {
			continue
		}
		whole := staves[i]
		if whole.whole != nil {
			whole = whole.whole
		}
		if byWhole[whole] == nil {
			order = append(order, whole)
		}
		byWhole[whole] = append(byWhole[whole], c)
		taken[staves[i]] = true
	}
	var list [][]*comparison
	for _, whole := range order {
		all := !slices.ContainsFunc(players, func(p *staff) bool { return p.whole == whole && !taken[p] })
		if all {
			list = append(list, byWhole[whole])
		}
	}
	return list
}
