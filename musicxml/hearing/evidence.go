package hearing

import "math"

// perPassage is how many moments count as one piece of evidence. Neighbouring moments
// hold the same notes, so that they do not tell independently; a bar of four quarters
// mostly brings another chord.
const perPassage = 4 * 2

// What makes a difference clear: its size on the scale of consonance, how many times
// it exceeds what chance makes of so many passages, and how many passages there are.
// On the shared scores the right reading is ahead by 0.2 and more, a right part is
// never behind; three times the standard error is common practice in statistics. Of
// the eleven other shifts of a part the best is taken, so that chance has eleven
// goes: four times.
const (
	clearMargin      = 0.1
	leastPassages    = 8
	clearSpread      = 3.0
	clearBestOfShift = 4.0
)

// Evidence says by how much one way of reading sounds better than another, and how
// well founded that is.
type Evidence struct {
	// Margin is the difference of the mean consonances, −2 to 2, positive where the
	// first way is the better one.
	Margin float64
	// Passages are the stretches of four quarter notes in which anything told.
	Passages int
	// Spread is the standard error of Margin, by how the passages differ.
	Spread float64
}

// Clear reports whether the first way is clearly better.
func (e Evidence) Clear() bool { return e.exceeds(clearSpread) }

// Certain reports whether it is so much better that other evidence may be set aside.
func (e Evidence) Certain() bool { return e.exceeds(2 * clearSpread) }

// Leans reports whether the first way seems better, where there is too little to be
// sure.
func (e Evidence) Leans() bool { return 2*e.Passages >= leastPassages && e.Margin >= clearMargin }

func (e Evidence) exceeds(spread float64) bool {
	return e.Passages >= leastPassages && e.Margin >= clearMargin && e.Margin >= spread*e.Spread
}

// Opposite is the evidence for the second way.
func (e Evidence) Opposite() Evidence {
	e.Margin = -e.Margin
	return e
}

// passage is what was heard in four quarters: how many intervals, and by how much the
// first way of reading makes them sound better, in hundredths, in all.
type passage struct{ intervals, better int }

// weigh sums passages up. The mean is that of all intervals; how far it may be from
// the truth follows from how far the passages are from it (the ratio estimator of
// survey statistics, passages as clusters: Cochran, Sampling Techniques; from memory).
func weigh(passages []passage) Evidence {
	var e Evidence
	var all passage
	for _, p := range passages {
		if p.intervals > 0 {
			e.Passages++
			all.intervals += p.intervals
			all.better += p.better
		}
	}
	if all.intervals == 0 {
		return e
	}
	e.Margin = mean(all.better, all.intervals)
	sum := 0.0
	for _, p := range passages {
		off := float64(p.better)/full - float64(e.Margin*float64(p.intervals))
		sum += float64(off * off) // rounded before it is added: the same on every machine
	}
	e.Spread = math.Sqrt(sum) / float64(all.intervals)
	return e
}
