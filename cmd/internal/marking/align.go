package marking

import "deskpart/transpose/pitch"

// Costs of joining an expected head with one of the answer, in hundredths. A gap on
// both sides costs 200: whatever is cheaper is joined.
const (
	costGap    = 100
	costBar    = 90 // for each bar that they lie apart, at most three
	costOnset  = 12 // little: one note missing moves all that follow in its bar
	costLength = 35
	costShift  = 45 // the head is not moved as most are
	costStep   = 6  // for each step that it lies off, at most five
	costRight  = 2  // not moved as most are, but right: a mistake may set in later
	costAlter  = 40 // the right letter, otherwise raised or lowered
	costTie    = 20 // tied on one side alone
)

// aligned says for every expected head which of the answer's it became, −1 for
// none, and lists the answer's heads that are left over.
type aligned struct {
	to    []int
	extra []int
}

// align joins the heads of two staves: those at the same place in time first, by
// the least cost of all ways that keep the order (edit distance).
func align(expected, answer *music) aligned {
	shift := usualShift(expected.heads, answer.heads)
	n, m := len(expected.heads), len(answer.heads)
	cost := make([][]int, n+1)
	for i := range cost {
		cost[i] = make([]int, m+1)
		for k := range cost[i] {
			switch {
			case i == 0:
				cost[i][k] = k * costGap
			case k == 0:
				cost[i][k] = i * costGap
			default:
				joined := cost[i-1][k-1] + joinCost(expected.heads[i-1], answer.heads[k-1], shift)
				cost[i][k] = min(joined, cost[i-1][k]+costGap, cost[i][k-1]+costGap)
			}
		}
	}
	return trace(cost, expected.heads, answer.heads, shift)
}

// trace walks the cheapest way back.
func trace(cost [][]int, expected, answer []head, shift int) aligned {
	a := aligned{to: make([]int, len(expected))}
	i, k := len(expected), len(answer)
	for i > 0 || k > 0 {
		switch {
		case i > 0 && k > 0 && cost[i][k] == cost[i-1][k-1]+joinCost(expected[i-1], answer[k-1], shift):
			i, k = i-1, k-1
			a.to[i] = k
		case i > 0 && cost[i][k] == cost[i-1][k]+costGap:
			i--
			a.to[i] = -1
		default:
			k--
			a.extra = append([]int{k}, a.extra...)
		}
	}
	return a
}

func joinCost(e, a head, shift int) int {
	cost := costBar * min(pitch.Abs(a.bar-e.bar), 3)
	if a.onset != e.onset {
		cost += costOnset
	}
	if a.length != e.length {
		cost += costLength
	}
	if a.tieTo != e.tieTo || a.tieFrom != e.tieFrom {
		cost += costTie
	}
	switch off := pitch.Abs(a.place() - e.place() - shift); {
	case a.place() == e.place() && shift != 0:
		cost += costRight
	case off != 0:
		cost += costShift + costStep*min(off, 5)
	case shift%7 == 0 && a.pitch.Alter != e.pitch.Alter:
		cost += costAlter
	}
	return cost
}

// usualShift is the number of steps by which most heads lie off, of those that
// begin together, or in their order where none do.
func usualShift(expected, answer []head) int {
	type moment struct {
		bar   int
		onset string
		chord int
	}
	at := map[moment]int{}
	name := func(list []head, i int) moment {
		m := moment{list[i].bar, list[i].onset.String(), 0}
		for k := i - 1; k >= 0 && list[k].bar == list[i].bar && list[k].onset == list[i].onset; k-- {
			m.chord++
		}
		return m
	}
	for k := range answer {
		at[name(answer, k)] = k
	}
	count := map[int]int{}
	for i := range expected {
		if k, ok := at[name(expected, i)]; ok {
			count[answer[k].place()-expected[i].place()]++
		}
	}
	if len(count) == 0 {
		for i := range min(len(expected), len(answer)) {
			count[answer[i].place()-expected[i].place()]++
		}
	}
	best := 0
	for shift, times := range count {
		if times > count[best] || times == count[best] && (pitch.Abs(shift) < pitch.Abs(best) || pitch.Abs(shift) == pitch.Abs(best) && shift > best) {
			best = shift
		}
	}
	return best
}
