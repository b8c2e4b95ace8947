package marking

import (
	"maps"
	"slices"

	"deskpart/transpose/pitch"
)

// Bars are aligned before notes: who leaves out a bar, writes one twice or leaves
// one blank has made that one mistake, and everything else is compared where it
// belongs.

// Costs of aligning bars, in hundredths of a note.
const (
	costMissed    = 60 // for each note of a bar that the answer leaves out
	costUnwritten = 58 // for each note behind the place where it breaks off
	costBlank     = 10 // by which a blank bar is likelier than one left out
	costAdded     = 20 // a bar too many, besides its notes
	costEmpty     = 30 // an empty bar too many between others
	costTwice     = 60 // a bar written once more
	// two bars in each other's place, and what they may be wrong for each note
	costSwap, costSlip = 90, 25
	// a bar that is not moved as most are, and each of its first notes
	costOtherWay, costOtherNote, otherNotes = 40, 25, 3
)

// role is what became of a bar.
type role int

// The roles of expected bars.
const (
	barKept   role = iota
	barLeft        // left out
	barVacant      // there, but blank
)

// barAlignment says what became of each bar.
type barAlignment struct {
	to   []int  // for each expected bar the answer's, −1 where it is left out
	role []role // of each expected bar
	// added are the answer's bars that are too many; after says behind which
	// expected bar each stands, −1 before the first; twice that it repeats what stood
	// there.
	added []int
	after map[int]int
	twice map[int]bool
	// exchanged and moved are the bars that stand in another order.
	exchanged []exchange
	moved     []move
	cost      int
	// shifts is by how much each expected bar's notes lie off.
	shifts []shift
}

// barAligner aligns the bars of a key with those of an answer.
type barAligner struct {
	key, answer *music
	shifts      []shift // what heads may lie off by, the likeliest first
	main        int     // the index of the one that is tried
	end         int     // of the answer: behind its last bar with notes
	// given and got are the heads bar by bar; cells the costs of taking a bar for an
	// expected one, by shift; cheapest those over all shifts, with main as the one that
	// most bars are moved by.
	given, got [][]head
	cells      []knownCosts
	cheapest   knownCosts
}

func newBarAligner(key, answer *music) *barAligner {
	a := &barAligner{key: key, answer: answer, given: key.byBar(), got: answer.byBar()}
	a.shifts = likelyShifts(a.given, a.got)
	for range a.shifts {
		a.cells = append(a.cells, newKnownCosts(len(a.given), len(a.got)))
	}
	a.turnTo(0)
	if n := len(answer.heads); n > 0 {
		a.end = answer.heads[n-1].bar + 1
	}
	return a
}

// turnTo takes one of the shifts for that by which most bars are moved.
func (a *barAligner) turnTo(main int) {
	a.main, a.cheapest = main, newKnownCosts(len(a.given), len(a.got))
}

// alignBars finds the cheapest alignment of those that are cheaper than what is known; false
// where there is none.
func alignBars(key, answer *music, known int) (best barAlignment, found bool) {
	a := newBarAligner(key, answer)
	main := 0
	for n := range a.shifts {
		a.turnTo(n)
		if b, cheaper := a.align(known); cheaper {
			best, known, found, main = b, b.cost, true, n
		}
	}
	if found {
		a.turnTo(main)
		a.reorder(&best)
	}
	return best, found
}

// mostShifts bounds what is tried.
const mostShifts = 4

// likelyShifts lists the distances by which bars of the same rhythm lie off, of those
// with as many steps the commonest one, the commonest first; and none.
func likelyShifts(key, answer [][]head) []shift {
	votes := map[shift]int{}
	for i, e := range key {
		for k, a := range answer {
			if i != k && !sameRhythm(e, a) {
				continue
			}
			weight := 1
			if i == k {
				weight = 3
			}
			for n := range min(len(e), len(a)) {
				votes[shift{a[n].place() - e[n].place(), a[n].pitch.MIDI() - e[n].pitch.MIDI()}] += weight
			}
		}
	}
	shifts := mostVoted(votes)
	if len(shifts) > mostShifts {
		shifts = shifts[:mostShifts]
	}
	if !slices.ContainsFunc(shifts, func(s shift) bool { return s.steps == 0 }) {
		shifts = append(shifts, shift{})
	}
	return shifts
}

// mostVoted sums the votes of shifts by as many steps, and keeps of each the one with
// most votes.
func mostVoted(votes map[shift]int) []shift {
	sums, best := map[int]int{}, map[int]shift{}
	for s, n := range votes {
		sums[s.steps] += n
		b, known := best[s.steps]
		if !known || n > votes[b] || n == votes[b] && nearer(int(s.semitones), int(b.semitones)) {
			best[s.steps] = s
		}
	}
	shifts := slices.Collect(maps.Values(best))
	slices.SortFunc(shifts, func(a, b shift) int {
		switch {
		case sums[a.steps] != sums[b.steps]:
			return sums[b.steps] - sums[a.steps]
		case nearer(a.steps, b.steps):
			return -1
		}
		return 1
	})
	return shifts
}

// nearer reports whether a is nearer to nothing than b, of equals the one above.
func nearer(a, b int) bool {
	if pitch.Abs(a) != pitch.Abs(b) {
		return pitch.Abs(a) < pitch.Abs(b)
	}
	return a > b
}

func sameRhythm(e, a []head) bool {
	return slices.EqualFunc(e, a, func(e, a head) bool { return e.onset == a.onset && e.length == a.length })
}

// cell is the cost of taking a bar of the answer for an expected one, with the
// notes moved as most are, or otherwise at a price.
func (a *barAligner) cell(i, k int) int {
	return a.cheapest.of(i, k, func() int {
		best := a.cellBy(i, k, a.main)
		for n := range a.shifts {
			if n != a.main {
				best = min(best, a.cellBy(i, k, n)+a.otherWay(i, k, n))
			}
		}
		return best
	})
}

// otherWay is the price of a bar that is moved otherwise than most: little where it
// is right; the fewer notes it has, the likelier it is that they are simply wrong.
func (a *barAligner) otherWay(i, k, shift int) int {
	if a.shifts[shift].steps == 0 {
		return costOtherWay
	}
	return costOtherWay + costOtherNote*min(len(a.given[i]), len(a.got[k]), otherNotes)
}

// shiftOf is the shift by which a cell is cheapest.
func (a *barAligner) shiftOf(i, k int) shift {
	best, least := a.main, a.cellBy(i, k, a.main)
	for n := range a.shifts {
		if c := a.cellBy(i, k, n) + a.otherWay(i, k, n); n != a.main && c < least {
			best, least = n, c
		}
	}
	return a.shifts[best]
}

// cellBy is the cost of a cell with one of the shifts, by its index.
func (a *barAligner) cellBy(i, k, shift int) int {
	return a.cells[shift].of(i, k, func() int {
		e, g := a.given[i], a.got[k]
		table := alignCosts(len(e), len(g), max(len(e), len(g)), func(i, k int) int { return joinCost(e[i], g[k], a.shifts[shift]) })
		c := table[len(e)].at(len(g))
		if k == a.end-1 { // where the answer may break off
			for n := range e {
				c = min(c, table[n].at(len(g))+costUnwritten*(len(e)-n))
			}
		}
		return c
	})
}

// take is the cost of a bar of the answer in the place of an expected one.
func (a *barAligner) take(i, k int) int {
	if len(a.got[k]) == 0 && len(a.given[i]) > 0 {
		return a.miss(i, k) - costBlank
	}
	return a.cell(i, k)
}

// miss is the cost of leaving out an expected bar before the answer's k-th one. To
// break off is likelier than to leave out.
func (a *barAligner) miss(i, k int) int {
	e := a.given[i]
	if k >= a.end {
		return costUnwritten * len(e)
	}
	return costMissed * len(e)
}

// add is the cost of a bar too many behind the first i expected ones.
func (a *barAligner) add(i, k int) int {
	switch g := a.got[k]; {
	case len(g) > 0:
		return costMissed*len(g) + costAdded
	case i == 0 || i == len(a.key.bars):
		return 0 // title measures, and bars that a program adds
	}
	return costEmpty
}

// longestRepeat bounds the runs of bars that are looked for as written once more.
const longestRepeat = 12

// again is what a bar adds to the cost of n before the k-th that repeat the expected ones
// before the i-th: the n-th from the end.
func (a *barAligner) again(i, k, n int) int {
	if len(a.got[k-n]) == 0 {
		return a.miss(i-n, k)
	}
	return a.cell(i-n, k-n)
}

// swap is the cost of two bars of the answer, from the k-th on, each in the place of the other.
func (a *barAligner) swap(i, k int) int {
	for n := range 2 {
		if len(a.given[i+n]) == 0 || len(a.got[k+n]) == 0 {
			return never
		}
	}
	wrong := a.cell(i, k+1) + a.cell(i+1, k)
	if wrong > costSlip*(len(a.given[i])+len(a.given[i+1])) {
		return never
	}
	return costSwap + wrong
}

// nearby is how many bars beside the diagonal are tried first.
const nearby = 8

// align fills the table of costs and walks back; false where nothing is cheaper than what is
// known. What an alignment near the diagonal costs bounds the rest: the cheapest one never
// passes a cell above that.
func (a *barAligner) align(known int) (barAlignment, bool) {
	n, m := len(a.given), len(a.got)
	near := a.fill(nearby+pitch.Abs(n-m), known-1)
	c := a.fill(n+m, min(near[n].at(m), known-1))
	if c[n].at(m) >= known {
		return barAlignment{}, false
	}
	return a.walk(c), true
}

// fill fills the table so many bars to either side of the diagonal, where the costs do not
// pass the bound.
func (a *barAligner) fill(aside, bound int) []costRow {
	c := make([]costRow, len(a.given)+1)
	c[0].put(0, 0)
	for i := range c {
		from, above := 1, 0 // the columns to which a way leads from above
		if i > 0 {
			from, above = c[i-1].from, c[i-1].from+len(c[i-1].costs)
		}
		if i > 1 {
			from, above = min(from, c[i-2].from+2), max(above, c[i-2].from+len(c[i-2].costs)+1)
		}
		last := 0 // the last that can be reached
		for k := max(from, i-aside); k <= min(len(a.got), i+aside) && (k <= above || k <= last+longestRepeat); k++ {
			cost := a.least(c, i, k, never, bound)
			if cost > bound {
				cost = never
			} else {
				last = k
			}
			c[i].put(k, cost)
		}
		c[i].end(last)
	}
	return c
}

// least is the cost of the cheapest way to come to a cell of the table, or of another one if
// that is cheaper. Ways above the bound need not be tried.
func (a *barAligner) least(c []costRow, i, k, best, bound int) int {
	if i > 0 && k > 0 {
		if before := c[i-1].at(k - 1); before <= bound {
			best = min(best, before+a.take(i-1, k-1))
		}
	}
	if i > 0 {
		best = min(best, c[i-1].at(k)+a.miss(i-1, k))
	}
	if k > 0 {
		best = min(best, c[i].at(k-1)+a.add(i, k-1))
	}
	if i > 1 && k > 1 {
		if before := c[i-2].at(k - 2); before <= bound && before+costSwap < best {
			best = min(best, before+a.swap(i-2, k-2))
		}
	}
	most, repeated := min(i, k, longestRepeat), costTwice
	for most > 0 && c[i].at(k-most) > bound {
		most--
	}
	for n := 1; n <= most && repeated < best; n++ {
		repeated += a.again(i, k, n)
		best = min(best, c[i].at(k-n)+repeated)
	}
	return best
}

// walk reads the cheapest alignment off the table.
func (a *barAligner) walk(c []costRow) barAlignment {
	n, m := len(a.key.bars), len(a.answer.bars)
	b := barAlignment{to: make([]int, n), role: make([]role, n), shifts: make([]shift, n), after: map[int]int{}, twice: map[int]bool{}, cost: c[n].at(m)}
	i, k := n, m
	for i > 0 || k > 0 {
		switch repeat := a.repeatAt(c, i, k); {
		case i > 0 && k > 0 && c[i].at(k) == c[i-1].at(k-1)+a.take(i-1, k-1):
			i, k = i-1, k-1
			b.to[i], b.shifts[i], b.role[i] = k, a.shiftOf(i, k), a.roleOf(i, k)
		case i > 0 && c[i].at(k) == c[i-1].at(k)+a.miss(i-1, k):
			i--
			b.to[i], b.role[i], b.shifts[i] = -1, barLeft, a.shifts[a.main]
		case i > 1 && k > 1 && c[i-2].at(k-2) < never && c[i].at(k) == c[i-2].at(k-2)+a.swap(i-2, k-2):
			i, k = i-2, k-2
			for n := range 2 {
				b.to[i+n], b.shifts[i+n], b.role[i+n] = k+1-n, a.shiftOf(i+n, k+1-n), barKept
			}
		case repeat > 0:
			for range repeat {
				k--
				b.addBar(k, i-1, true)
			}
		default:
			k--
			b.addBar(k, i-1, false)
		}
	}
	return b
}

// repeatAt is how many bars that are written once more end at a cell, 0 for none.
func (a *barAligner) repeatAt(c []costRow, i, k int) int {
	repeated := costTwice
	for n := 1; n <= min(i, k, longestRepeat); n++ {
		if repeated += a.again(i, k, n); c[i].at(k) == c[i].at(k-n)+repeated {
			return n
		}
	}
	return 0
}

// addBar notes down a bar too many, the last one first.
func (b *barAlignment) addBar(k, after int, twice bool) {
	b.added = append([]int{k}, b.added...)
	b.after[k], b.twice[k] = after, twice
}

func (a *barAligner) roleOf(i, k int) role {
	if len(a.got[k]) == 0 && len(a.given[i]) > 0 {
		return barVacant
	}
	return barKept
}
