package exercise

import (
	"math/rand/v2"
	"slices"
	"strings"

	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

// The second part of a melody for two players of one desk: thirds and sixths, with
// fifths and octaves where a line wants them, as pairs of horns, trumpets or
// clarinets have always been written (common practice, no source). It is the
// cheapest line by dynamic programming over the sizes below each tone.

// pairs are the instruments that stand two to a staff.
var pairs = []string{"horn-", "trumpet-", "clarinet-bflat", "clarinet-a", "alto-saxophone-", "tenor-saxophone-"}

// pairable reports whether two players of an instrument share a staff.
func pairable(i *instruments.Instrument) bool {
	return i != nil && slices.ContainsFunc(pairs, func(prefix string) bool { return strings.HasPrefix(i.ID, prefix) })
}

// sizes are how far below the first part the second may lie, in steps.
var sizes = []int{2, 5, 4, 7}

// deepest is how far below its compass a melody may have its second part.
const deepest = 5

// fits reports whether a tone and the one below it are consonant: a third, a sixth,
// a perfect fifth, an octave.
func fits(upper, lower tone, minor bool) bool {
	semitones := semitonesIn(minor, upper) - semitonesIn(minor, lower)
	return slices.Contains(consonant[upper.step-lower.step], semitones)
}

var consonant = map[int][]int{2: {3, 4}, 4: {7}, 5: {8, 9}, 7: {12}}

// secondPart finds the line below a melody that keeps above lowest and clear of the
// degrees that are altered in its bars; false where there is none.
func secondPart(tones []tone, altered [][7]bool, minor bool, lowest int, rng *rand.Rand) ([]tone, bool) {
	d := &duet{tones: tones, altered: altered, minor: minor, lowest: lowest}
	d.taste = make([]int, len(tones)*len(sizes))
	for i := range d.taste {
		d.taste[i] = rng.IntN(12)
	}
	return d.line()
}

// duet is the search: cost[i][k] is the least cost of the first i+1 tones with the
// k-th choice at the last, and run how long that size has gone on.
type duet struct {
	tones   []tone
	altered [][7]bool
	minor   bool
	lowest  int
	taste   []int // a little chance, by tone and choice
}

// forbidden is the cost of what cannot be.
const forbidden = 1 << 20

// longestRun is how often one size may follow itself: block sixths are no duet.
const longestRun = 3

type duetState struct {
	cost, from, run int
}

func (d *duet) lower(i, k int) tone { return tone{step: d.tones[i].step - sizes[k]} }

// allowed reports whether a choice can stand at a tone.
func (d *duet) allowed(i, k int) bool {
	lower := d.lower(i, k)
	last := i == len(d.tones)-1
	if lower.step < d.lowest || d.altered[i][lower.degree()] || !fits(d.tones[i], lower, d.minor) {
		return false
	}
	return !last || lower.degree() == tonic || lower.degree() == third
}

func (d *duet) line() ([]tone, bool) {
	n, m := len(d.tones), len(sizes)
	table := make([][]duetState, n)
	for i := range table {
		table[i] = make([]duetState, m)
		for k := range table[i] {
			table[i][k] = d.best(table, i, k)
		}
	}
	end, least := -1, forbidden
	for k, s := range table[n-1] {
		if s.cost < least {
			end, least = k, s.cost
		}
	}
	if end < 0 {
		return nil, false
	}
	line := make([]tone, n)
	for i, k := n-1, end; i >= 0; i-- {
		line[i] = d.lower(i, k)
		k = table[i][k].from
	}
	return line, true
}

// best is the cheapest way to a choice at a tone.
func (d *duet) best(table [][]duetState, i, k int) duetState {
	own := d.taste[i*len(sizes)+k]
	switch sizes[k] {
	case 4:
		own += 30
	case 7:
		own += 25
	}
	switch {
	case !d.allowed(i, k):
		return duetState{cost: forbidden}
	case i == 0:
		return duetState{cost: own, run: 1}
	}
	best := duetState{cost: forbidden}
	for j, before := range table[i-1] {
		run := 1
		if sizes[j] == sizes[k] {
			run = before.run + 1
		}
		if cost := before.cost + own + d.step(i, j, k, run); cost < best.cost {
			best = duetState{cost, j, run}
		}
	}
	return best
}

// step is the cost of going from one choice to the next.
func (d *duet) step(i, j, k, run int) int {
	upper := d.tones[i].step - d.tones[i-1].step
	lower := d.lower(i, k).step - d.lower(i-1, j).step
	moves := upper != 0 && lower != 0
	same := sizes[j] == sizes[k]
	switch {
	case same && moves && (sizes[k] == 4 || sizes[k] == 7): // parallel fifths and octaves
		return forbidden
	case run > longestRun && moves, pitch.Abs(lower) > 4:
		return forbidden
	case pitch.Abs(upper) > 2 && pitch.Abs(lower) > 2 && sign(upper) == sign(lower):
		return forbidden
	}
	cost := 6 * max(pitch.Abs(lower)-1, 0)
	if moves && sign(upper) != sign(lower) {
		cost -= 8 // contrary motion
	}
	return max(cost, 0) + 2*run
}
