package marking

import (
	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/texts"
	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

// movedText says what was done and what was right: "moved a fourth up; a fifth up
// was right".
func (x *examiner) movedText(by pitch.Interval) string {
	return x.t.Say("marking.moved", texts.Fill{"by": x.t.Moved(by), "right": x.rightMove()})
}

// directionText says the same of the right interval the other way, also where octaves hide it:
// a fourth up has the letters of a fifth down.
func (x *examiner) directionText(by pitch.Interval) string {
	if back := x.moved.Negate(); by != back {
		return x.t.Say("marking.moved-like", texts.Fill{"by": x.t.Moved(by), "like": x.t.Moved(back), "right": x.rightMove()})
	}
	return x.movedText(by)
}

// rightMove says the move that was asked for.
func (x *examiner) rightMove() string {
	if x.moved == (pitch.Interval{}) {
		return x.t.Interval(x.moved)
	}
	return x.t.Moved(x.moved)
}

// intervalText names the interval that was taken, and the instrument that it suits.
func (x *examiner) intervalText(by pitch.Interval) string {
	if x.moved == same { // in another clef
		return x.t.Say("marking.everything-off", texts.Fill{"off": x.t.Astray(by)})
	}
	if x.moved == same { // in another clef
		return x.t.Say("marking.everything-off", texts.Fill{"off": x.t.Astray(by)})
	}
	text := x.movedText(by)
	if i := x.suits(by); i != nil && x.Topic != exercise.IntervalTopic {
		text = x.t.Say("marking.suits", texts.Fill{"what": text, "instrument": x.t.Instrument(i)})
	}
	return text
}

// stepsText is the same for an interval that is right in its letters alone.
func (x *examiner) stepsText(steps int) string {
	if steps < 0 {
		return x.t.Say("marking.letters-down", texts.Fill{"n": -steps, "right": x.rightMove()})
	}
	return x.t.Say("marking.letters-up", texts.Fill{"n": steps, "right": x.rightMove()})
}

// suits finds the instrument whose interval was taken, those of the exercises first,
// then the usual ones.
func (x *examiner) suits(by pitch.Interval) *instruments.Instrument {
	if x.From == explain.Sounding {
		by = by.Negate()
	}
	suited := func(i *instruments.Instrument) bool {
		return i != nil && i.Interval() == by && !i.Flags.Rare && !i.Flags.Voice && i.Transposes()
	}
	for _, id := range exercise.Instruments() {
		if i := x.catalogue.ByID(id); suited(i) {
			return i
		}
	}
	var found *instruments.Instrument
	for _, i := range x.catalogue.All() {
		if suited(i) && (found == nil || i.Flags.Usual && !found.Flags.Usual) {
			found = i
		}
	}
	return found
}

func (x *examiner) clefText(meant, read instruments.Clef) string {
	if meant == read {
		return x.t.Say("marking.wrong-clef", nil)
	}
	return x.t.Say("marking.clef-read", texts.Fill{"meant": x.clefName(meant), "read": x.clefName(read)})
}

func (x *examiner) clefName(c instruments.Clef) string {
	name, _ := x.t.Clef(c.Name())
	return name
}
