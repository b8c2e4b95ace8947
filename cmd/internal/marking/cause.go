package marking

import (
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/texts"
	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

// cause is one mistake that moves many notes, thought to its end.
type cause struct {
	kind Kind // "" for none: the notes are where they should be
	rule Rule
	// note says what was done, for the report.
	note string
	// target is where each expected head would stand, as far as its letter; and
	// exactly, where the cause keeps an exact interval.
	target []pitch.Pitch
	exact  bool
	// fifths are the signatures that would go with it, head by head.
	fifths []int
	// weight is how unlikely it is beforehand, in hundredths of a note.
	weight int
	// seen is a cause that was found in the answer itself.
	seen bool
	// copied is the question handed in as it was: nothing was done.
	copied bool
	// throughout: nobody begins with it in the middle; late: nobody does otherwise.
	throughout, late bool
	// from is the first head that it moves; those before are right.
	from int
}

// handling is how signatures and accidentals were dealt with.
type handling int

// The handlings.
const (
	asMeant    handling = iota // every note sounds as the interval has it
	reread                     // the right signs, read under the signature that is there
	bySign                     // raised and lowered against the signature that is there
	literal                    // the question's signs copied as they are
	dropped                    // no signs
	spelledOut                 // every sign at its note, as if the right signature were there
)

var handlings = []handling{asMeant, reread, bySign, literal, dropped, spelledOut}

// handlingWeights are in hundredths of a note.
var handlingWeights = [...]int{asMeant: 0, reread: 40, bySign: 45, literal: 60, dropped: 60, spelledOut: 50}

// commonClefs are those that are taken for one another.
var commonClefs = []instruments.Clef{explain.Treble, explain.Bass, explain.Alto, explain.Tenor}

// examiner is the work on one answer.
type examiner struct {
	*Key
	t      *texts.Texts
	answer *music
	align  aligned
	// got are the answer's pitches beside the expected heads; known says where there
	// is one; is are the answer's signatures there.
	got   []pitch.Pitch
	known []bool
	is    []int
	// wanted are the expected pitches and signatures; the enharmonic twin's where the
	// learner took it.
	wanted       []pitch.Pitch
	wantedFifths []int
	twin         bool
}

// asked are the given pitches, nil where the question is not known.
func (x *examiner) asked() []pitch.Pitch {
	if x.given == nil {
		return nil
	}
	return pitchesOf(x.given.heads)
}

func pitchesOf(heads []head) []pitch.Pitch {
	pitches := make([]pitch.Pitch, len(heads))
	for i, h := range heads {
		pitches[i] = h.pitch
	}
	return pitches
}

func fifthsOf(heads []head) []int {
	list := make([]int, len(heads))
	for i, h := range heads {
		list[i] = h.fifths
	}
	return list
}

// plus adds a number to each.
func plus(list []int, n int) []int {
	sum := make([]int, len(list))
	for i, m := range list {
		sum[i] = m + n
	}
	return sum
}

// causes lists everything that may explain the answer.
func (x *examiner) causes() []cause {
	list := []cause{{target: x.wanted, exact: true, fifths: x.wantedFifths}}
	list = append(list, x.octaves()...)
	list = append(list, x.clefs()...)
	if q := x.asked(); q != nil {
		list = append(list, x.unmoved(q)...)
		list = append(list, x.directions(q)...)
		list = append(list, x.intervals(q)...)
	} else {
		list = append(list, x.shifts()...)
	}
	return list
}

func moved(pitches []pitch.Pitch, by pitch.Interval) []pitch.Pitch {
	list := make([]pitch.Pitch, len(pitches))
	for i, p := range pitches {
		list[i] = by.Apply(p)
	}
	return list
}

// octaves: everything one or more octaves off.
func (x *examiner) octaves() []cause {
	var list []cause
	for _, n := range []int{-1, 1, -2, 2} {
		list = append(list, cause{kind: WrongOctave, rule: RuleOctave, note: x.t.Astray(pitch.Octaves(n)), target: moved(x.wanted, pitch.Octaves(n)),
			exact: true, fifths: x.wantedFifths, weight: 90 + 10*pitch.Abs(n)})
	}
	return list
}

// unmoved: the question copied. For an instrument that moves by octaves alone, it
// is the octave that was forgotten.
func (x *examiner) unmoved(q []pitch.Pitch) []cause {
	c := cause{kind: WrongInterval, rule: RuleCopied, note: x.t.Say("marking.copied", nil), target: q, exact: true,
		fifths: x.givenFifths(), weight: 80, copied: true}
	if isOctaves(x.moved) {
		if x.moved == same {
			return nil
		}
		c.kind, c.note = WrongOctave, x.t.Say("marking.octave-forgotten", nil)
	}
	return []cause{c}
}

func (x *examiner) givenFifths() []int { return fifthsOf(x.given.heads) }

// directions: moved by the right interval the other way, octaves aside.
func (x *examiner) directions(q []pitch.Pitch) []cause {
	if x.moved == same {
		return nil
	}
	var list []cause
	for _, n := range []int{0, -1, 1, -2, 2} {
		by := x.moved.Negate().Add(pitch.Octaves(n))
		if by == x.moved || n != 0 && isOctaves(by) {
			continue
		}
		list = append(list, cause{kind: WrongDirection, rule: RuleDirection, note: x.directionText(by), target: moved(q, by), exact: true,
			fifths: plus(x.givenFifths(), by.Fifths()), weight: 80 + 10*pitch.Abs(n), throughout: n != 0})
	}
	return list
}

func isOctaves(i pitch.Interval) bool { return i == pitch.Octaves(i.Diatonic/7) }

// clefs: the notes stand where they would be right in another clef.
func (x *examiner) clefs() []cause {
	var list []cause
	read := x.answer.clefOr(x.expected.clef)
	meant := append([]instruments.Clef{x.expected.clef}, commonClefs...)
	if x.given != nil {
		meant = append(meant, x.given.clef)
	}
	seen := map[int]bool{0: true}
	for _, c := range meant {
		steps := explain.MiddleLine(read) - explain.MiddleLine(c)
		if seen[steps] || steps%7 == 0 {
			continue
		}
		seen[steps] = true
		weight := 150 // a clef that has no part in the task
		switch {
		case c == x.expected.clef:
			weight = 60 // the page shows another clef than the notes were put for
		case x.given != nil && c == x.given.clef:
			weight = 130
		}
		list = append(list, cause{kind: WrongClef, rule: RuleClef, note: x.clefText(c, read), target: placed(x.wanted, steps), fifths: x.wantedFifths, weight: weight})
	}
	return list
}

// placed moves pitches by steps; their alterations are for the signature to say.
func placed(pitches []pitch.Pitch, steps int) []pitch.Pitch {
	list := make([]pitch.Pitch, len(pitches))
	for i, p := range pitches {
		list[i] = pitch.At(p.Place() + steps)
	}
	return list
}

func (m *music) clefOr(c instruments.Clef) instruments.Clef {
	if m.hasClef {
		return m.clef
	}
	return c
}

// intervals: another interval than the one asked for, throughout. The candidates
// are those that the answer itself shows most often, exactly or by steps.
func (x *examiner) intervals(q []pitch.Pitch) []cause {
	var list []cause
	exact, steps := x.seenIntervals(q)
	for _, by := range exact {
		if by == x.moved || isOctaves(by.Sub(x.moved)) || isOctaves(by.Add(x.moved)) || by == (pitch.Interval{}) {
			continue
		}
		list = append(list, cause{kind: WrongInterval, rule: RuleInterval, note: x.intervalText(by), target: moved(q, by), exact: true,
			fifths: plus(x.givenFifths(), by.Fifths()), weight: 150, seen: true})
	}
	for _, n := range steps {
		if n == 0 || (n-x.moved.Diatonic)%7 == 0 {
			continue
		}
		likeDirection := (n+x.moved.Diatonic)%7 == 0
		list = append(list, cause{kind: WrongInterval, rule: RuleInterval, note: x.stepsText(n), target: placed(q, n), fifths: x.signatureOfSteps(n), weight: 210, seen: true, late: likeDirection})
	}
	return list
}

// signatureOfSteps is the signature that goes with a move of so many letters: of the
// intervals of that size the one whose signature the answer has, or else the usual
// one.
func (x *examiner) signatureOfSteps(n int) []int {
	first := x.given.heads[0].fifths
	natural := pitch.Interval{Diatonic: n, Chromatic: pitch.At(n+70).NoteNumber() - pitch.At(70).NoteNumber()}
	best := natural
	for _, semitones := range []int{0, -1, 1} {
		by := natural.Add(pitch.Interval{Chromatic: semitones})
		if first+by.Fifths() == x.is[0] {
			return plus(x.givenFifths(), by.Fifths())
		}
		if pitch.Abs(first+by.Fifths()) < pitch.Abs(first+best.Fifths()) {
			best = by
		}
	}
	return plus(x.givenFifths(), best.Fifths())
}

// mostSeen bounds the intervals that are tried.
const mostSeen = 4

// seenIntervals lists the commonest intervals between question and answer, and the
// commonest numbers of steps.
func (x *examiner) seenIntervals(q []pitch.Pitch) (exact []pitch.Interval, steps []int) {
	byInterval, bySteps := map[pitch.Interval]int{}, map[int]int{}
	for i, known := range x.known {
		if !known {
			continue
		}
		if by, ok := pitch.Between(q[i], x.got[i]); ok {
			byInterval[by]++
		}
		bySteps[x.got[i].Place()-q[i].Place()]++
	}
	exact = commonestOf(byInterval, mostSeen, func(a, b pitch.Interval) bool {
		return a.Diatonic < b.Diatonic || a.Diatonic == b.Diatonic && a.Chromatic < b.Chromatic
	})
	steps = commonestOf(bySteps, mostSeen/2, func(a, b int) bool { return a < b })
	return exact, steps
}

// commonestOf lists what was counted at least twice, the commonest first, of those
// as common the lower first; at most so many.
func commonestOf[T comparable](count map[T]int, most int, less func(a, b T) bool) []T {
	var list []T
	for len(list) < most {
		var best T
		times := 1
		for v, n := range count {
			if n > times || n == times && n > 1 && less(v, best) {
				best, times = v, n
			}
		}
		if times < 2 {
			break
		}
		list = append(list, best)
		delete(count, best)
	}
	return list
}

// shifts: without the question, a constant distance from the right answer.
func (x *examiner) shifts() []cause {
	var list []cause
	exact, _ := x.seenIntervals(x.wanted)
	for _, by := range exact {
		if by == (pitch.Interval{}) || isOctaves(by) {
			continue
		}
		list = append(list, cause{kind: WrongInterval, rule: RuleInterval, note: x.t.Say("marking.everything-off", texts.Fill{"off": x.t.Astray(by)}), target: moved(x.wanted, by),
			exact: true, fifths: plus(x.wantedFifths, by.Fifths()), weight: 150, seen: true})
	}
	return list
}
