package marking

import (
	"maps"
	"slices"
)

// What stands in another order than that of the key is found behind the alignment, which
// goes from left to right: among the bars that it has no place for.

// mostMoved bounds how many bars are looked for elsewhere; of more than fewMoved some would be
// found by chance, so that each is to be as it was, without a slip.
const mostMoved, fewMoved = 100, 8

// exchange is bars in the place of as many others.
type exchange struct{ these, those []int }

// move is bars that stand behind another one, −1 for the beginning.
type move struct {
	bars   []int
	behind int
}

// reorder joins expected bars that are lost, or held against what they are not, with bars of
// the answer that are left over elsewhere, where that is likelier.
func (a *barAligner) reorder(b *barAlignment) {
	lost, left := a.unplaced(b)
	if len(lost) > mostMoved || len(left) > mostMoved {
		lost = nil
	}
	slip := costSlip
	if len(lost) > fewMoved {
		slip = 0
	}
	elsewhere, taken := map[int]int{}, map[int]bool{}
	for _, i := range lost {
		best := -1
		for _, k := range left {
			if c := a.cell(i, k); !taken[k] && c <= slip*len(a.given[i]) && (best < 0 || c < a.cell(i, best)) {
				best = k
			}
		}
		if best >= 0 {
			elsewhere[i], taken[best] = best, true
		}
	}
	b.exchanged, b.moved = a.outOfOrder(b)
	if len(elsewhere) == 0 {
		return
	}
	best, other := *b, a.rejoined(b, elsewhere)
	for range 2 { // as they were found, and those that are alike in the right order
		other.exchanged, other.moved = a.outOfOrder(&other)
		whole := other
		if whole.cost += costSwap * (len(other.exchanged) + len(other.moved) - len(b.exchanged) - len(b.moved)); whole.cost < best.cost {
			best = whole
		}
		other.to, other.shifts = slices.Clone(other.to), slices.Clone(other.shifts)
		for _, i := range slices.Sorted(maps.Keys(elsewhere)) {
			a.untangle(&other, i)
		}
	}
	*b = best
}

// unplaced lists the expected bars that have no bar of the answer, or one that they are not,
// and the bars of the answer of which the same is true.
func (a *barAligner) unplaced(b *barAlignment) (lost, left []int) {
	left = slices.DeleteFunc(slices.Clone(b.added), func(k int) bool { return len(a.got[k]) == 0 })
	for i, k := range b.to {
		if k >= 0 && b.role[i] == barKept && a.cellBy(i, k, a.main) <= costSlip*len(a.given[i]) {
			continue
		}
		if len(a.given[i]) > 0 {
			lost = append(lost, i)
		}
		if k >= 0 && len(a.got[k]) > 0 {
			left = append(left, k)
		}
	}
	slices.Sort(left)
	return lost, left
}

// rejoined is the alignment with expected bars joined elsewhere, and what it costs but for
// the order.
func (a *barAligner) rejoined(b *barAlignment, elsewhere map[int]int) barAlignment {
	other := *b
	other.to, other.role, other.shifts = slices.Clone(b.to), slices.Clone(b.role), slices.Clone(b.shifts)
	other.after, other.twice = maps.Clone(b.after), maps.Clone(b.twice)
	taken := map[int]bool{}
	for _, k := range elsewhere {
		taken[k] = true
	}
	other.added = slices.DeleteFunc(slices.Clone(b.added), func(k int) bool { return taken[k] })
	for _, k := range b.added {
		switch {
		case !taken[k]:
		case !b.twice[k]:
			other.cost -= a.add(b.after[k]+1, k)
		case !b.twice[k-1]:
			other.cost -= costTwice
		}
	}
	for i, k := range b.to {
		to, placed := elsewhere[i]
		switch {
		case placed && k >= 0:
			other.cost -= a.take(i, k)
		case placed:
			other.cost -= costUnwritten * len(a.given[i])
		case k >= 0 && taken[k]:
			other.to[i], other.role[i] = -1, barLeft
			other.cost += costMissed*len(a.given[i]) - a.take(i, k)
		}
		if !placed {
			continue
		}
		other.to[i], other.role[i], other.shifts[i] = to, barKept, a.shiftOf(i, to)
		other.cost += a.cell(i, to)
		if k >= 0 && !taken[k] && len(a.got[k]) > 0 {
			other.added, other.after[k], other.twice[k] = append(other.added, k), i-1, false
			other.cost += a.add(i, k)
		}
	}
	slices.Sort(other.added)
	return other
}

// untangle lets an expected bar and another one that stand in the wrong order, but are alike,
// stand in the right one.
func (a *barAligner) untangle(b *barAlignment, i int) {
	for j, k := range b.to {
		if to := b.to[i]; k >= 0 && b.role[j] == barKept && i != j && (i < j) != (to < k) && a.cell(i, k)+a.cell(j, to) <= a.cell(i, to)+a.cell(j, k) {
			b.to[i], b.to[j] = k, to
			b.shifts[i], b.shifts[j] = a.shiftOf(i, k), a.shiftOf(j, to)
		}
	}
}

// outOfOrder tells which bars with notes stand in another order than that of the key: those
// that have changed places, and of the others as few as can be.
func (a *barAligner) outOfOrder(b *barAlignment) (exchanged []exchange, moved []move) {
	var bars, inOrder []int // expected bars, and those of the answer
	for i, k := range b.to {
		if k >= 0 && b.role[i] == barKept && len(a.given[i]) > 0 {
			bars, inOrder = append(bars, i), append(inOrder, k)
		}
	}
	if slices.IsSorted(inOrder) {
		return nil, nil
	}
	slices.Sort(inOrder)
	stands, at := make([]int, len(bars)), make([]int, len(bars)) // the n-th bar is the answer's stands[n]-th; the reverse
	for n, i := range bars {
		stands[n], _ = slices.BinarySearch(inOrder, b.to[i])
		at[stands[n]] = n
	}
	from := -1 // the last bar of the last exchange
	var others []int
	for n, s := range stands {
		switch {
		case s == n || stands[s] != n:
			others = append(others, n)
		case s < n:
		case len(exchanged) > 0 && from == n-1 && stands[from] == s-1:
			last := &exchanged[len(exchanged)-1]
			last.these, last.those, from = append(last.these, bars[n]), append(last.those, bars[s]), n
		default:
			exchanged, from = append(exchanged, exchange{bars[n : n+1 : n+1], bars[s : s+1 : s+1]}), n
		}
	}
	stay := longestRising(others, stands)
	last := -1
	for _, n := range others {
		switch {
		case stay[n]:
		case len(moved) > 0 && last == n-1 && stands[last] == stands[n]-1:
			m := &moved[len(moved)-1]
			m.bars, last = append(m.bars, bars[n]), n
		default:
			behind := -1
			if stands[n] > 0 {
				behind = bars[at[stands[n]-1]]
			}
			moved, last = append(moved, move{bars[n : n+1 : n+1], behind}), n
		}
	}
	return exchanged, moved
}

// longestRising chooses as many of a row as stand in rising places.
func longestRising(row, stands []int) map[int]bool {
	length, before := make([]int, len(row)), make([]int, len(row))
	end := -1
	for x, n := range row {
		length[x], before[x] = 1, -1
		for w, m := range row[:x] {
			if stands[m] < stands[n] && length[w] >= length[x] {
				length[x], before[x] = length[w]+1, w
			}
		}
		if end < 0 || length[x] > length[end] {
			end = x
		}
	}
	stay := map[int]bool{}
	for x := end; x >= 0; x = before[x] {
		stay[row[x]] = true
	}
	return stay
}
