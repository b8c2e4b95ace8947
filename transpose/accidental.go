package transpose

import (
	"strings"

	"deskpart/transpose/pitch"
)

// The printed signs of MusicXML 4.0 (accidental-value) that stand for a fixed
// alteration, in semitones. Half signs are quarter tones; the arrow signs keep
// their arrow and change the sign under it.
var accidentalValues = map[string]pitch.Alter{
	"triple-flat": pitch.Semitones(-3), "flat-flat": pitch.Semitones(-2), "flat": pitch.Semitones(-1),
	"natural": 0, "sharp": pitch.Semitones(1), "double-sharp": pitch.Semitones(2), "triple-sharp": pitch.Semitones(3),
	"sharp-sharp": pitch.Semitones(2), "natural-sharp": pitch.Semitones(1), "natural-flat": pitch.Semitones(-1),
	"three-quarters-flat": -3 * pitch.Semitone / 2, "quarter-flat": -pitch.Semitone / 2,
	"quarter-sharp": pitch.Semitone / 2, "three-quarters-sharp": 3 * pitch.Semitone / 2,
}

// plainAccidentals is the sign for each alteration where the source sets no style.
var plainAccidentals = map[pitch.Alter]string{
	pitch.Semitones(-3): "triple-flat", pitch.Semitones(-2): "flat-flat", pitch.Semitones(-1): "flat",
	0: "natural", pitch.Semitones(1): "sharp", pitch.Semitones(2): "double-sharp", pitch.Semitones(3): "triple-sharp",
	-3 * pitch.Semitone / 2: "three-quarters-flat", -pitch.Semitone / 2: "quarter-flat",
	pitch.Semitone / 2: "quarter-sharp", 3 * pitch.Semitone / 2: "three-quarters-sharp",
}

// arrowed is the order of signs that take an arrow.
var arrowed = map[string]int{"flat-flat": -2, "double-flat": -2, "flat": -1, "natural": 0, "sharp": 1, "double-sharp": 2}
var arrowedNames = map[int]string{-2: "flat-flat", -1: "flat", 0: "natural", 1: "sharp", 2: "double-sharp"}

// accidentalFor returns the printed sign for an alteration. old is the sign that the
// source printed: its style is kept where the alteration allows ("sharp-sharp"
// for a double sharp, natural-flat for a flat after a double flat). The second
// result is false where no sign says it.
func accidentalFor(a pitch.Alter, old string) (string, bool) {
	switch {
	case old != "" && hasValue(old, a):
		return old, true
	case old == "natural-flat" && a == pitch.Semitones(1):
		return "natural-sharp", true
	case old == "natural-sharp" && a == pitch.Semitones(-1):
		return "natural-flat", true
	}
	name, ok := plainAccidentals[a]
	return name, ok
}

func hasValue(name string, a pitch.Alter) bool {
	v, ok := accidentalValues[name]
	return ok && v == a
}

// movedAccidental returns the sign that stands where old stood, after the alteration
// of its note went from one value to another. A sign that differed from its note
// (the source contradicts itself) follows the note, or with asPrinted moves by
// as much as the note does. ok is false, and the sign is the old one, where it
// belongs to a system that whole semitones cannot move or no sign says the new
// alteration.
func movedAccidental(old string, from, to pitch.Alter, asPrinted bool) (name string, ok bool) {
	if base, arrow, cut := cutArrow(old); cut {
		n, whole := (to - from).Whole()
		if moved, known := arrowedNames[arrowed[base]+n]; known && whole && n != 0 {
			return moved + arrow, true
		}
		return old, n == 0
	}
	value, known := accidentalValues[old]
	if !known {
		return old, from == to
	}
	if asPrinted {
		to += value - from
	}
	if name, ok = accidentalFor(to, old); !ok {
		return old, false
	}
	return name, true
}

// cutArrow parts "sharp-up" into "sharp" and "-up".
func cutArrow(name string) (base, arrow string, ok bool) {
	for _, arrow := range []string{"-up", "-down"} {
		if base, cut := strings.CutSuffix(name, arrow); cut {
			_, known := arrowed[base]
			return base, arrow, known
		}
	}
	return "", "", false
}

// AccidentalName returns the MusicXML accidental for an alteration in semitones, as a
// copyist would print it, and whether there is one.
func AccidentalName(a pitch.Alter) (string, bool) { return accidentalFor(a, "") }

// AccidentalValue returns the alteration that a printed sign stands for, and whether
// the sign has a fixed one.
func AccidentalValue(name string) (pitch.Alter, bool) {
	v, ok := accidentalValues[name]
	return v, ok
}
