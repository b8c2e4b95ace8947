package exercise

import (
	"math/rand/v2"
	"slices"

	"deskpart/cmd/internal/explain"
	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

// plan is what is settled before a melody is sought. Versions of an exercise
// share it, so that they are equally hard.
type plan struct {
	task      explain.Task
	bars      int
	metre     string
	rhythm    rhythm
	mode      pitch.Mode
	respelled bool
	twoParts  bool
	// keys are the given keys that a version may have, in fifths: within one fifth
	// of each other.
	keys []int
	// leaps, signs and changes are the numbers that every version has; leaps is −1
	// for the first, which finds its own.
	leaps, signs, changes int
	closes                int // degree, −1 for open
	// givenClef and answerClef are those of the first version.
	clefs *clefs
}

type clefs struct{ given, answer instruments.Clef }

// newPlan draws a plan.
func (l *Level) newPlan(task explain.Task, settled *clefs, rng *rand.Rand) plan {
	p := plan{task: task, clefs: settled, leaps: -1, closes: -1, mode: pitch.Major, bars: l.Bars[rng.IntN(len(l.Bars))]}
	if l.Minor && rng.IntN(5) < 2 {
		p.mode = pitch.Minor
	}
	if l.TwoPartsOneIn > 0 && rng.IntN(l.TwoPartsOneIn) == 0 && pairable(task.Instrument) {
		p.twoParts, p.bars = true, 4
	}
	p.respelled = settled == nil && l.RespelledOneIn > 0 && rng.IntN(l.RespelledOneIn) == 0
	p.metre = l.Metres[rng.IntN(len(l.Metres))]
	p.rhythm = newRhythm(l, metres[p.metre], p.bars, rng)
	p.signs = l.SignsFrom + rng.IntN(l.SignsTo-l.SignsFrom+1)
	p.changes = l.Changes
	keys := l.keys(task, p.respelled)
	if len(keys) == 0 {
		p.respelled = false
		keys = l.keys(task, false)
	}
	if len(keys) > 0 {
		p.keys = keys[rng.IntN(len(keys)):][:1]
	}
	if task.Interval().Fifths() == 0 {
		// Both signatures are the same: no accidental can change its kind.
		p.changes = 0
	}
	return p
}

// keys are the given keys whose answer lies within the level's limit, or with
// respelled those whose answer takes the twin of a key beyond it. For an
// instrument whose interval is too wide for the level the limit grows.
func (l *Level) keys(task explain.Task, respelled bool) []int {
	by := task.Interval().Fifths()
	for limit := l.Fifths; limit <= task.MaxSignature; limit++ {
		var keys []int
		for given := -limit; given <= limit; given++ {
			exact := given + by
			if !respelled && pitch.Abs(exact) <= limit || respelled && pitch.Abs(exact) > task.MaxSignature && pitch.Abs(pitch.Twin(exact)) <= limit {
				keys = append(keys, given)
			}
		}
		if len(keys) > 0 || respelled {
			return keys
		}
	}
	// No key fits as it is: all of them take the twin.
	var keys []int
	for given := -task.MaxSignature; given <= task.MaxSignature; given++ {
		if pitch.Abs(pitch.Twin(given+by)) <= task.MaxSignature {
			keys = append(keys, given)
		}
	}
	return keys
}

// neighbours are the keys that versions of an exercise may have beside its own:
// the next ones on one side of the line of fifths, so that no two versions are
// more than one fifth apart.
func (p *plan) neighbours(l *Level) []int {
	own := p.keys[0]
	keys := []int{own}
	possible := l.keys(p.task, p.respelled)
	for _, other := range []int{own + 1, own - 1} {
		if slices.Contains(possible, other) {
			return append(keys, other)
		}
	}
	return keys
}
