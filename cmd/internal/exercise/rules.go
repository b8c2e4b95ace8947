package exercise

import (
	"slices"

	"deskpart/transpose/pitch"
)

// The rules of a sound melody (trade/teaching.md, section 3), each as a question
// about three tones in a row.

// rules are the rules of one level in one mode.
type rules struct {
	level *Level
	minor bool
}

// leap is a third or more, in steps.
const (
	leapFrom     = 2
	recoveryFrom = 3 // a fourth or more is followed by a step back
)

func isLeap(a, b tone) bool { return pitch.Abs(b.step-a.step) >= leapFrom }

// interval allows two tones in a row: no augmented intervals, no sevenths, nothing
// larger than the level's leap; of diminished ones the fifth alone, which the rule
// of the step back then resolves. At level 1 leaps go among 1, 3 and 5.
func (r rules) interval(a, b tone) bool {
	size := pitch.Abs(b.step - a.step)
	semitones := pitch.Abs(semitonesIn(r.minor, b) - semitonesIn(r.minor, a))
	if size > r.level.Leap && size > 1 {
		return false
	}
	if size >= leapFrom && r.level.Number == 1 && !(inTriad(a) && inTriad(b)) {
		return false
	}
	return slices.Contains(melodic[size], semitones)
}

// melodic are the semitones that two tones in a row may lie apart, by their steps.
var melodic = map[int][]int{0: {0}, 1: {1, 2}, 2: {3, 4}, 3: {5}, 4: {6, 7}, 5: {8, 9}, 7: {12}}

// inTriad reports whether a tone is 1, 3 or 5.
func inTriad(t tone) bool {
	d := t.degree()
	return t.plain() && (d == tonic || d == third || d == fifth)
}

// three allows c after a and b within a phrase.
func (r rules) three(a, b, c tone) bool {
	return r.shape(a, b, c) && r.tendency(a, b, c) && r.altered(a, b, c)
}

// across allows c, the first tone of a phrase, after a and b, the last of the one
// before: the close has come to rest, so that no tone is driven on.
func (r rules) across(a, b, c tone) bool {
	return r.shape(a, b, c) && b.plain()
}

// shape is about the line: a fourth or more is followed by a step back, two leaps
// one way go along the triad, no tone comes three times running.
func (r rules) shape(a, b, c tone) bool {
	if !r.interval(b, c) || a == b && b == c {
		return false
	}
	came, goes := b.step-a.step, c.step-b.step
	if pitch.Abs(came) >= recoveryFrom {
		return goes == -sign(came)
	}
	if pitch.Abs(came) >= leapFrom && pitch.Abs(goes) >= leapFrom && sign(came) == sign(goes) {
		return inTriad(a) && inTriad(b) && inTriad(c)
	}
	return true
}

// tendency: 7 rises, 4 and 6 fall, a scale run in their direction overrides; in
// minor the 7 of the signature falls, and 6 with it.
func (r rules) tendency(a, b, c tone) bool {
	if !b.plain() || b == c {
		return true
	}
	came, goes := b.step-a.step, c.step-b.step
	switch b.degree() {
	case seventh:
		if r.minor {
			return came <= 0 && came >= -1 && goes == -1
		}
		return goes == 1 || came == -1 && goes == -1
	case fourth:
		return goes == -1 || came == 1 && goes == 1
	case sixth:
		return goes == -1 || came == 1 && goes == 1 && (!r.minor || !c.plain())
	}
	return true
}

// altered: a raised tone goes on upwards by a semitone, a lowered one downwards;
// both are come to by step, the raised seventh of minor also by the third. The
// raised sixth stands only between 5 and the raised seventh.
func (r rules) altered(a, b, c tone) bool {
	if b.plain() || b == c && !r.level.Neighbours {
		return true
	}
	came, goes := b.step-a.step, c.step-b.step
	held := a == b
	if r.minor && b.raised > 0 {
		switch b.degree() {
		case sixth:
			return a.plain() && came == 1 && goes == 1 && c.raised > 0
		case seventh:
			return goes == 1 && c.plain() && (held || pitch.Abs(came) <= leapFrom && (a.plain() || a.degree() == sixth))
		}
	}
	if goes != b.raised || !c.plain() || pitch.Abs(semitonesIn(r.minor, c)-semitonesIn(r.minor, b)) != 1 {
		return false
	}
	if r.level.Neighbours {
		return a == c
	}
	return held || pitch.Abs(came) == 1 && a.plain()
}

// closes allows the last two tones: 2–1 or 7–1, the 7 of minor raised.
func (r rules) closes(b, c tone) bool {
	if c.degree() != tonic || !c.plain() || pitch.Abs(c.step-b.step) != 1 {
		return false
	}
	return b.degree() == second && b.plain() || b.degree() == seventh && b.plain() != r.minor
}

// closesWeakly allows the last tone of a phrase that stays open: 2 or 5.
func closesWeakly(t tone) bool {
	d := t.degree()
	return t.plain() && (d == second || d == fifth)
}

func sign(n int) int {
	switch {
	case n < 0:
		return -1
	case n > 0:
		return 1
	}
	return 0
}
