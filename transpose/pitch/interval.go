package pitch

import (
	"fmt"
	"strconv"
	"strings"
)

// Interval is a move by letter steps and semitones, both signed upward, octaves
// folded in (an octave is 7 and 12). Intervals are a group: the zero value moves
// nothing, Add composes, Negate undoes, and moving by I and then by −I gives
// back the same spelled pitch, never only the same sound.
type Interval struct {
	Diatonic  int // letter steps
	Chromatic int // semitones
}

// Add returns the interval of moving by i and then by j.
func (i Interval) Add(j Interval) Interval {
	return Interval{i.Diatonic + j.Diatonic, i.Chromatic + j.Chromatic}
}

// Negate returns the interval that undoes i.
func (i Interval) Negate() Interval { return Interval{-i.Diatonic, -i.Chromatic} }

// Sub returns i followed by the undoing of j.
func (i Interval) Sub(j Interval) Interval { return i.Add(j.Negate()) }

// Octaves returns an interval of n octaves.
func Octaves(n int) Interval { return Interval{7 * n, 12 * n} }

// Fifths returns how far the interval moves a key on the line of fifths: sharps
// added, flats negative (7·chromatic − 12·diatonic).
func (i Interval) Fifths() int { return 7*i.Chromatic - 12*i.Diatonic }

// Apply moves a pitch. The fraction of a microtone is kept.
func (i Interval) Apply(p Pitch) Pitch {
	place := p.Place() + i.Diatonic
	octave := FloorDiv(place, 7)
	moved := Pitch{Step: Step(place - 7*octave), Octave: octave}
	natural := moved.MIDI()
	moved.Alter = p.MIDI() + Semitones(i.Chromatic) - natural
	return moved
}

// Between returns the interval from a to b and whether it is a whole number of
// semitones; if not, the fraction is left out.
func Between(a, b Pitch) (Interval, bool) {
	n, whole := (b.MIDI() - a.MIDI()).Whole()
	return Interval{b.Place() - a.Place(), n}, whole
}

// Respelled returns the interval one diminished second away: same sound,
// letters moved by n steps.
func (i Interval) Respelled(n int) Interval { return Interval{i.Diatonic + n, i.Chromatic} }

// sizeNames name the sizes up to a fourteenth, by letter steps.
var sizeNames = []string{"unison", "second", "third", "fourth", "fifth", "sixth", "seventh", "octave",
	"ninth", "tenth", "eleventh", "twelfth", "thirteenth", "fourteenth"}

// counts are the numbers of octaves in words, from two on.
var counts = []string{2: "two", 3: "three", 4: "four", 5: "five", 6: "six", 7: "seven", 8: "eight", 9: "nine", 10: "ten"}

// Name returns the interval's size in words, without direction: "major second",
// "octave", "two octaves and a major second".
func (i Interval) Name() string {
	if i.isDown() {
		i = i.Negate()
	}
	octaves := i.Diatonic / 7
	rest := i.Sub(Octaves(octaves))
	switch {
	case i == Octaves(1):
		return "octave"
	case i.Diatonic < len(sizeNames):
		return quality(i) + " " + sizeNames[i.Diatonic]
	case rest == Interval{}:
		return count(octaves) + " octaves"
	}
	name := quality(rest) + " " + sizeNames[rest.Diatonic]
	if strings.HasPrefix(name, "aug") {
		return count(octaves) + " octaves and an " + name
	}
	return count(octaves) + " octaves and a " + name
}

func count(n int) string {
	if n < len(counts) {
		return counts[n]
	}
	return strconv.Itoa(n)
}

// isDown reports whether the interval leads downward; a unison is named by its
// semitones.
func (i Interval) isDown() bool { return i.Diatonic < 0 || i.Diatonic == 0 && i.Chromatic < 0 }

// String adds the direction: "major second up", "perfect unison".
func (i Interval) String() string {
	switch {
	case i == Interval{}:
		return i.Name()
	case i.isDown():
		return i.Name() + " down"
	}
	return i.Name() + " up"
}

// quality names an upward interval's quality.
func quality(i Interval) string {
	within := i.Diatonic % 7
	perfect := within == 0 || within == 3 || within == 4
	off := i.Chromatic - 12*(i.Diatonic/7) - semitonesAbove[within]
	switch {
	case perfect && off == 0:
		return "perfect"
	case !perfect && off == 0:
		return "major"
	case !perfect && off == -1:
		return "minor"
	case off > 0:
		return degree(off) + "augmented"
	case perfect:
		return degree(-off) + "diminished"
	}
	return degree(-off-1) + "diminished"
}

func degree(n int) string {
	switch n {
	case 1:
		return ""
	case 2:
		return "doubly "
	case 3:
		return "triply "
	}
	return fmt.Sprintf("%d times ", n)
}

func FloorDiv(a, b int) int {
	q := a / b
	if a%b != 0 && (a < 0) != (b < 0) {
		q--
	}
	return q
}
