package marking

import (
	"slices"
	"sort"
)

// Bars are aligned before notes: who leaves out a bar, writes one twice or leaves
// one blank has made that one mistake, and everything else is compared where it
// belongs.

// Costs of aligning bars, in hundredths of a note.
const (
	costMissed   = 60 // for each note of a bar that the answer leaves out
	costMissing  = 20 // and for the bar
	costEmpty    = 30 // an empty bar too many between others
	costTwice    = 60 // a bar written once more
	costOtherWay = 40 // a bar that is not moved as most are
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
	cost  int
	// shifts is by how many steps each expected bar's notes lie off.
	shifts []int
}

// barAligner aligns the bars of a key with those of an answer.
type barAligner struct {
	key, answer *music
	shifts      []int // what heads may lie off by, the likeliest first
	main        int   // the one that is tried
	cells       map[[3]int]int
}

// alignBars finds the cheapest alignment.
func alignBars(key, answer *music) barAlignment {
	a := &barAligner{key: key, answer: answer, shifts: likelyShifts(key, answer), cells: map[[3]int]int{}}
	best := barAlignment{cost: -1}
	for _, shift := range a.shifts {
		a.main = shift
		if b := a.align(); best.cost < 0 || b.cost < best.cost {
			best = b
		}
	}
	return best
}

// mostShifts bounds what is tried.
const mostShifts = 4

// likelyShifts lists the numbers of steps by which bars of the same rhythm lie off,
// the commonest first, and none.
func likelyShifts(key, answer *music) []int {
	votes := map[int]int{0: 0}
	for i := range key.bars {
		e, _ := key.inBar(i)
		for k := range answer.bars {
			a, _ := answer.inBar(k)
			if i != k && !sameRhythm(e, a) {
				continue
			}
			weight := 1
			if i == k {
				weight = 3
			}
			for n := range min(len(e), len(a)) {
				votes[a[n].place()-e[n].place()] += weight
			}
		}
	}
	shifts := make([]int, 0, len(votes))
	for shift := range votes {
		shifts = append(shifts, shift)
	}
	sort.Slice(shifts, func(i, k int) bool {
		x, y := shifts[i], shifts[k]
		switch {
		case votes[x] != votes[y]:
			return votes[x] > votes[y]
		case abs(x) != abs(y):
			return abs(x) < abs(y)
		}
		return x > y
	})
	if len(shifts) > mostShifts {
		shifts = shifts[:mostShifts]
	}
	if !slices.Contains(shifts, 0) {
		shifts = append(shifts, 0)
	}
	return shifts
}

func sameRhythm(e, a []head) bool {
	if len(e) != len(a) {
		return false
	}
	for i := range e {
		if e[i].onset != a[i].onset || e[i].length != a[i].length {
			return false
		}
	}
	return true
}

// cell is the cost of taking a bar of the answer for an expected one, with the
// notes moved as most are, or otherwise at a price.
func (a *barAligner) cell(i, k int) int {
	best := a.cellBy(i, k, a.main)
	for _, shift := range a.shifts {
		if shift != a.main {
			best = min(best, a.cellBy(i, k, shift)+costOtherWay)
		}
	}
	return best
}

// shiftOf is the shift by which a cell is cheapest.
func (a *barAligner) shiftOf(i, k int) int {
	best, least := a.main, a.cellBy(i, k, a.main)
	for _, shift := range a.shifts {
		if c := a.cellBy(i, k, shift) + costOtherWay; shift != a.main && c < least {
			best, least = shift, c
		}
	}
	return best
}

func (a *barAligner) cellBy(i, k, shift int) int {
	at := [3]int{i, k, shift}
	if c, known := a.cells[at]; known {
		return c
	}
	e, _ := a.key.inBar(i)
	g, _ := a.answer.inBar(k)
	c := alignCosts(len(e), len(g), func(i, k int) int { return joinCost(e[i], g[k], shift) }).total()
	a.cells[at] = c
	return c
}

// take is the cost of a bar of the answer in the place of an expected one.
func (a *barAligner) take(i, k int) int {
	e, _ := a.key.inBar(i)
	g, _ := a.answer.inBar(k)
	if len(g) == 0 && len(e) > 0 {
		return a.miss(i) - costMissing/2 // rather blank than left out
	}
	return a.cell(i, k)
}

// miss is the cost of leaving out an expected bar, add that of one too many behind
// the first i expected ones.
func (a *barAligner) miss(i int) int {
	e, _ := a.key.inBar(i)
	return costMissed*len(e) + costMissing
}

func (a *barAligner) add(i, k int) int {
	g, _ := a.answer.inBar(k)
	switch {
	case len(g) > 0:
		return costMissed*len(g) + costMissing
	case i == 0 || i == len(a.key.bars):
		return 0 // title measures, and bars that a program adds
	}
	return costEmpty
}

// again is the cost of a bar that repeats the expected one before it.
func (a *barAligner) again(i, k int) int {
	if g, _ := a.answer.inBar(k); i == 0 || len(g) == 0 {
		return a.add(i, k)
	}
	return costTwice + a.cell(i-1, k)
}

// align fills the table of costs and walks back.
func (a *barAligner) align() barAlignment {
	n, m := len(a.key.bars), len(a.answer.bars)
	c := make([][]int, n+1)
	for i := range c {
		c[i] = make([]int, m+1)
		for k := range c[i] {
			c[i][k] = a.least(c, i, k)
		}
	}
	return a.walk(c)
}

// least is the cost of a cell of the table.
func (a *barAligner) least(c [][]int, i, k int) int {
	best := -1
	if i == 0 && k == 0 {
		return 0
	}
	a.offers(c, i, k, func(cost int) {
		if best < 0 || cost < best {
			best = cost
		}
	})
	return best
}

// offers are the costs of the ways to come to a cell.
func (a *barAligner) offers(c [][]int, i, k int, offer func(cost int)) {
	if i > 0 && k > 0 {
		offer(c[i-1][k-1] + a.take(i-1, k-1))
	}
	if i > 0 {
		offer(c[i-1][k] + a.miss(i-1))
	}
	if k > 0 {
		offer(c[i][k-1] + min(a.add(i, k-1), a.again(i, k-1)))
	}
}

// walk reads the cheapest alignment off the table.
func (a *barAligner) walk(c [][]int) barAlignment {
	n, m := len(a.key.bars), len(a.answer.bars)
	b := barAlignment{to: make([]int, n), role: make([]role, n), shifts: make([]int, n), after: map[int]int{}, twice: map[int]bool{}, cost: c[n][m]}
	i, k := n, m
	for i > 0 || k > 0 {
		switch {
		case i > 0 && k > 0 && c[i][k] == c[i-1][k-1]+a.take(i-1, k-1):
			i, k = i-1, k-1
			b.to[i], b.shifts[i], b.role[i] = k, a.shiftOf(i, k), a.roleOf(i, k)
		case i > 0 && c[i][k] == c[i-1][k]+a.miss(i-1):
			i--
			b.to[i], b.role[i], b.shifts[i] = -1, barLeft, a.main
		default:
			k--
			b.added = append([]int{k}, b.added...)
			b.after[k] = i - 1
			b.twice[k] = a.again(i, k) < a.add(i, k)
		}
	}
	a.repeats(&b)
	return b
}

func (a *barAligner) roleOf(i, k int) role {
	e, _ := a.key.inBar(i)
	if g, _ := a.answer.inBar(k); len(g) == 0 && len(e) > 0 {
		return barVacant
	}
	return barKept
}

// repeats finds runs of bars that were written once more as a whole: 1 2 1 2 3.
func (a *barAligner) repeats(b *barAlignment) {
	for from := 0; from < len(b.added); {
		to := from + 1
		for to < len(b.added) && b.added[to] == b.added[to-1]+1 && b.after[b.added[to]] == b.after[b.added[from]] {
			to++
		}
		run := b.added[from:to]
		if first := b.after[run[0]] - len(run) + 1; first >= 0 && len(run) > 1 && a.repeatsFrom(first, run) {
			for _, k := range run {
				b.twice[k] = true
			}
		}
		from = to
	}
}

func (a *barAligner) repeatsFrom(first int, run []int) bool {
	cost, whole := 0, 0
	for n, k := range run {
		cost += a.cell(first+n, k)
		whole += a.add(1, k)
	}
	return 2*cost < whole
}
