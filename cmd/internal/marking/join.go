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
type costs [][]int

func alignCosts(n, m int, join func(i, k int) int) costs {
	c := make(costs, n+1)
	cells := make([]int, (n+1)*(m+1))
	for i := range c {
		c[i] = cells[i*(m+1) : (i+1)*(m+1)]
		for k := range c[i] {
			switch {
			case i == 0:
				c[i][k] = k * costGap
			case k == 0:
				c[i][k] = i * costGap
			default:
				c[i][k] = min(c[i-1][k-1]+join(i-1, k-1), c[i-1][k]+costGap, c[i][k-1]+costGap)
			}
		}
	}
	return c
}

// total is the cost of the whole alignment.
func (c costs) total() int { return c[len(c)-1][len(c[0])-1] }

// trace walks the cheapest way back: for each of the first row the one of the
// second that it is joined with, −1 for none.
func (c costs) trace(join func(i, k int) int) []int {
	to := make([]int, len(c)-1)
	i, k := len(c)-1, len(c[0])-1
	for i > 0 || k > 0 {
		switch {
		case i > 0 && k > 0 && c[i][k] == c[i-1][k-1]+join(i-1, k-1):
			i, k = i-1, k-1
			to[i] = k
		case i > 0 && c[i][k] == c[i-1][k]+costGap:
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
