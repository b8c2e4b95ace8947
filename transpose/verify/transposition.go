package verify

import (
	"fmt"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/transpose"
)

// said is what a <transpose> says on a staff from a place on.
type said struct {
	measure, notes int // index of the bar, and how many notes and moves stand before it there
	staff          int
	transpose.Transposition
	steps  bool   // the letter steps are said
	double string // "", "below" or "above"
}

// is reports whether two say the same, with or without the octaves set apart. Steps
// that one of them leaves out are no difference: they follow from the semitones.
func (s said) is(other said) bool {
	a, b := s.Interval(), other.Interval()
	return a.Chromatic == b.Chromatic && (a.Diatonic == b.Diatonic || !s.steps || !other.steps) && s.double == other.double
}

// transpositions lists where the transposition of a part changes, staff by staff. A
// <transpose> that says again what holds, or that a staff sounds as written, is none.
func transpositions(measures []*etree.Element, staves int) []said {
	inForce := make([]said, staves)
	var list []said
	for i, m := range measures {
		notes := 0
		for e := range m.ChildElementsSeq() {
			if e.Space != "" {
				continue
			}
			switch e.Tag {
			case "note", "backup", "forward":
				notes++
			case "attributes":
				for t := range musicxml.Each(e, "transpose") {
					list = append(list, take(inForce, readSaid(t), i, notes)...)
				}
			}
		}
	}
	return list
}

// take puts a transposition into force on its staves and returns what changes.
func take(inForce []said, s said, measure, notes int) (changed []said) {
	for k := range inForce {
		if s.staff != 0 && s.staff != k+1 || s.is(inForce[k]) {
			continue
		}
		inForce[k] = s
		c := s
		c.measure, c.notes, c.staff = measure, notes, k+1
		changed = append(changed, c)
	}
	return changed
}

// String says it as it is: two that name the same interval may differ in how they say it.
func (s said) String() string {
	text := fmt.Sprintf("%d letter steps, %d semitones and %d octaves", s.Diatonic, s.Chromatic, s.OctaveChange)
	if !s.steps {
		text = fmt.Sprintf("%d semitones and %d octaves without letter steps", s.Chromatic, s.OctaveChange)
	}
	if s.double != "" {
		text += " doubled an octave " + s.double
	}
	return text
}

func readSaid(e *etree.Element) said {
	s := said{staff: staffNumber(e), steps: musicxml.ChildText(e, "diatonic") != ""}
	s.Transposition, _ = music.ReadTransposition(e, 0) // a move that cannot be read fails before
	if double := musicxml.Child(e, "double"); double != nil {
		s.double = "below"
		if musicxml.Attr(double, "above") == "yes" {
			s.double = "above"
		}
	}
	return s
}

// staffNumber is the staff that an element of attributes is for, 0 for all.
func staffNumber(e *etree.Element) int {
	n := 0
	fmt.Sscan(musicxml.Attr(e, "number"), &n)
	return n
}

// transposition compares where the transposition changes, and to what.
func (c *comparison) transposition(want *musicxml.Timeline, got []*etree.Element) {
	measures := make([]*etree.Element, len(want.Measures))
	staves := 1
	for i := range want.Measures {
		measures[i] = want.Measures[i].Element
		for k := range want.Measures[i].Events {
			staves = max(staves, min(want.Measures[i].Events[k].Staff, mostStaves))
		}
	}
	a, b := transpositions(measures, staves), transpositions(got, staves)
	for i := range max(len(a), len(b)) {
		switch {
		case i >= len(b):
			c.find(&want.Measures[a[i].measure], musicxml.Fraction{}, "the change of transposition is missing")
		case i >= len(a):
			c.find(&want.Measures[min(b[i].measure, len(want.Measures)-1)], musicxml.Fraction{}, "there is a change of transposition too many")
		case a[i].measure != b[i].measure || a[i].notes != b[i].notes || a[i].staff != b[i].staff:
			c.find(&want.Measures[a[i].measure], musicxml.Fraction{}, "the change of transposition stands at another note or staff")
		case !a[i].is(b[i]):
			c.find(&want.Measures[a[i].measure], musicxml.Fraction{}, "the transposition is %s in place of %s", b[i], a[i])
		default:
			continue
		}
		return // what follows is of the same fault
	}
}

// mostStaves bounds the staves of a part that are looked at.
const mostStaves = 64
