package marking

import "deskpart/transpose/pitch"

// aligned is an answer held against the key: for every expected head which of the
// answer's it became, −1 for none, and the answer's heads that are left over.
type aligned struct {
	barring
	barAlignment barAlignment
	to           []int
	extra        []int
	cost         int // in hundredths of a note
}

// align reads an answer in the way that comes nearest to the key, and joins its
// bars and notes.
func align(key, answer *music) aligned {
	best := aligned{cost: never}
	for _, b := range barrings(key, answer) {
		if best.cost <= b.weight {
			break // no other way can be as near
		}
		a, found := aligned{barring: b}, true
		if !b.stream {
			a.barAlignment, found = alignBars(key, b.music, best.cost-b.weight)
		}
		if !found {
			continue
		}
		if a.cost = a.join(key, best.cost-b.weight) + b.weight; a.cost < best.cost {
			best = a
		}
	}
	return best
}

// join joins the heads and returns what it costs, or never where that is not less than what
// is known.
func (a *aligned) join(key *music, known int) int {
	cost := a.barAlignment.cost
	if a.stream {
		if cost = a.joinStream(key, known); cost >= never {
			return never
		}
	} else {
		a.joinBars(key)
	}
	taken := make([]bool, len(a.heads))
	for _, k := range a.to {
		if k >= 0 {
			taken[k] = true
		}
	}
	for k := range a.heads {
		if !taken[k] {
			a.extra = append(a.extra, k)
		}
	}
	return cost
}

// joinBars joins the heads bar by bar.
func (a *aligned) joinBars(key *music) {
	a.to = make([]int, len(key.heads))
	for i := range a.to {
		a.to[i] = -1
	}
	for i, k := range a.barAlignment.to {
		if k < 0 {
			continue
		}
		e, first := key.inBar(i)
		g, at := a.inBar(k)
		shift := a.barAlignment.shifts[i]
		join := func(i, k int) int { return joinCost(e[i], g[k], shift) }
		for n, to := range alignCosts(len(e), len(g), max(len(e), len(g)), join).trace(len(g), join) {
			if to >= 0 {
				a.to[first+n] = at + to
			}
		}
	}
}

// costBar is the cost of a head in another bar than expected.
const costBar = 20

// joinStream joins the heads of the whole music in their order; bars are those of
// the same number. Every head beside the diagonal is a gap, so that what is known bounds how
// far the joins can lie from it.
func (a *aligned) joinStream(key *music, known int) int {
	shift := likelyShifts(key.byBar(), a.byBar())[0]
	join := func(i, k int) int {
		cost := joinCost(key.heads[i], a.heads[k], shift)
		return cost + costBar*min(pitch.Abs(key.heads[i].bar-a.heads[k].bar), 3)
	}
	n, m := len(key.heads), len(a.heads)
	table := alignCosts(n, m, min(known/costGap, n+m), join)
	cost := table[n].at(m)
	if cost >= known {
		return never
	}
	a.to = table.trace(m, join)
	a.barAlignment = a.sameNumbers(key)
	return cost
}

// sameNumbers takes each bar for the expected one of its number.
func (a *aligned) sameNumbers(key *music) barAlignment {
	b := barAlignment{to: make([]int, len(key.bars)), role: make([]role, len(key.bars)), shifts: make([]shift, len(key.bars))}
	for i := range b.to {
		b.to[i] = -1
		if i < len(a.music.bars) {
			b.to[i] = i
		}
	}
	return b
}
