package marking

import (
	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// Costs of joining an expected head with one of the answer, in hundredths of a
// note. A gap on both sides costs 200: whatever is cheaper is joined.
const (
	costGap    = 100
	costOnset  = 12 // little: one note missing moves all that follow in its bar
	costLength = 35
	costShift  = 70 // the head is not moved as most are
	costStep   = 5  // for each step that it lies off, at most five
	costRight  = 40 // not moved as most are, but right: a mistake may set in later
	costAlter  = 40 // the right letter, otherwise raised or lowered than most are
	costSize   = 10 // the letter that most moves give, otherwise raised or lowered
	costTie    = 20 // tied on one side alone
)

// shift is by how much most heads of an answer lie off the expected ones.
type shift struct {
	steps     int
	semitones pitch.Alter
}

// joinCost is the cost of taking a head of the answer for an expected one, where
// most heads lie off by a shift.
func joinCost(e, a head, by shift) int {
	cost := 0
	if a.onset != e.onset {
		cost += costOnset
	}
	if a.length != e.length {
		cost += costLength
	}
	if a.tieTo != e.tieTo || a.tieFrom != e.tieFrom {
		cost += costTie
	}
	switch off := pitch.Abs(a.place() - e.place() - by.steps); {
	case a.place() == e.place() && by.steps != 0:
		cost += costRight
	case off != 0:
		cost += costShift + costStep*min(off, 5)
	case a.pitch.MIDI()-e.pitch.MIDI() == by.semitones:
	case by.steps%7 == 0:
		cost += costAlter
	default:
		cost += costSize
	}
	return cost
}

// costs is the table of an alignment of two rows of heads: the cell i, k is the
// least cost of aligning the first i with the first k (edit distance).
type costs []costRow

// alignCosts fills the table of n and m heads so many to either side of the diagonal.
func alignCosts(n, m, aside int, join func(i, k int) int) costs {
	c := make(costs, n+1)
	for i := range c {
		from, to := max(i-aside, 0), min(m, i+aside)
		c[i] = costRow{from, make([]int, 0, max(to-from+1, 0))}
		for k := from; k <= to; k++ {
			cost := costGap * (i + k) // at the edges
			if i > 0 && k > 0 {
				cost = min(c[i-1].at(k-1)+join(i-1, k-1), c[i-1].at(k)+costGap, c[i].at(k-1)+costGap)
			}
			c[i].costs = append(c[i].costs, cost)
		}
	}
	return c
}

// trace walks the cheapest way back from the end of m heads: for each of the first row the
// one of the second that it is joined with, −1 for none.
func (c costs) trace(m int, join func(i, k int) int) []int {
	to := make([]int, len(c)-1)
	i, k := len(c)-1, m
	for i > 0 || k > 0 {
		switch {
		case i > 0 && k > 0 && c[i].at(k) == c[i-1].at(k-1)+join(i-1, k-1):
			i, k = i-1, k-1
			to[i] = k
		case i > 0 && c[i].at(k) == c[i-1].at(k)+costGap:
			i--
			to[i] = -1
		default:
			k--
		}
	}
	return to
}

// spot is a place in the music.
type spot struct {
	bar   int
	onset musicxml.Fraction
}
