package reading

import (
	"cmp"
	"fmt"
	"slices"
)

// Kind says how two lists of sounding notes differ at one place.
type Kind string

// The kinds of difference.
const (
	Missing  Kind = "missing"  // a note of the first list has no counterpart
	Extra    Kind = "extra"    // a note of the second list has none
	Sounds   Kind = "pitch"    // another MIDI number
	Spelled  Kind = "spelling" // the same sound, another letter
	Lasts    Kind = "rhythm"   // another duration
	TiedElse Kind = "tie"      // tied on where the other is not, or the other way round
)

// Difference is one place where two lists of sounding notes differ.
type Difference struct {
	Kind          Kind
	MeasureIndex  int
	Measure, Beat string
	Want, Got     Sound // one of them is zero for Missing and Extra
}

// String says where the difference is, and what.
func (d Difference) String() string {
	return fmt.Sprintf("measure %s, beat %s: %s", d.Measure, d.Beat, d.Text())
}

// Text says in a musician's words what differs, without the place.
func (d Difference) Text() string {
	switch d.Kind {
	case Missing:
		return d.Want.name() + " is missing"
	case Extra:
		return d.Got.name() + " is too much"
	case Lasts:
		return fmt.Sprintf("%s lasts %s quarter notes and should last %s", d.Got.name(), d.Got.Duration, d.Want.Duration)
	case TiedElse:
		return d.Got.name() + " is not tied as it should be"
	}
	return fmt.Sprintf("%s sounds where %s should", d.Got.name(), d.Want.name())
}

func (s Sound) name() string {
	switch {
	case s.Unpitched:
		return "a stroke"
	case s.Grace > 0:
		return "grace note " + s.Pitch.String()
	}
	return s.Pitch.String()
}

// Compare lists where got differs from want, in the order of time. Notes are
// matched within one moment (bar, onset, place among the grace notes): first
// those that are the same, then those of the same sound, then in order of
// height. Staff and voice do not count: a part taken out of a shared staff has
// other ones.
func Compare(want, got []Sound) []Difference {
	if sameInOrder(want, got) {
		return nil
	}
	a, b := byMoment(want), byMoment(got)
	var list []Difference
	for len(a) > 0 || len(b) > 0 {
		var now, then []Sound
		switch order := firstMoment(a, b); {
		case order < 0:
			now, a = cutMoment(a)
		case order > 0:
			then, b = cutMoment(b)
		default:
			now, a = cutMoment(a)
			then, b = cutMoment(b)
		}
		list = append(list, compareMoment(now, then)...)
	}
	return list
}

// sameInOrder reports whether the lists are the same note by note, as they are of a part
// that was moved: nothing is to be matched then.
func sameInOrder(want, got []Sound) bool {
	if len(want) != len(got) {
		return false
	}
	for i := range want {
		a, b := &want[i], &got[i]
		if a.MeasureIndex != b.MeasureIndex || a.Onset != b.Onset || a.Grace != b.Grace || a.Unpitched != b.Unpitched ||
			a.MIDI != b.MIDI || a.Duration != b.Duration || a.Pitch != b.Pitch || a.TieStart != b.TieStart || a.TieStop != b.TieStop {
			return false
		}
	}
	return true
}

// byMoment returns a sorted copy: by moment, then height, then length.
func byMoment(list []Sound) []Sound {
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b Sound) int {
		return cmp.Or(compareTimes(a, b), a.MIDI.Cmp(b.MIDI), a.Duration.Cmp(b.Duration))
	})
	return list
}

func compareTimes(a, b Sound) int {
	return cmp.Or(cmp.Compare(a.MeasureIndex, b.MeasureIndex), a.Onset.Cmp(b.Onset), compareGraces(a.Grace, b.Grace))
}

// compareGraces puts grace notes, in their order, before the full note.
func compareGraces(a, b int) int {
	if a == 0 || b == 0 {
		return cmp.Compare(b, a)
	}
	return cmp.Compare(a, b)
}

func firstMoment(a, b []Sound) int {
	switch {
	case len(a) == 0:
		return 1
	case len(b) == 0:
		return -1
	}
	return compareTimes(a[0], b[0])
}

// cutMoment cuts off the notes of the first moment.
func cutMoment(list []Sound) (moment, rest []Sound) {
	n := 1
	for n < len(list) && compareTimes(list[0], list[n]) == 0 {
		n++
	}
	return list[:n:n], list[n:]
}

// matchings are tried one after another: each pairs what is still unpaired.
var matchings = []func(want, got Sound) bool{
	func(a, b Sound) bool { return sameSound(a, b) && a.Pitch == b.Pitch && sameTies(a, b) },
	func(a, b Sound) bool { return sameSound(a, b) && a.Pitch == b.Pitch },
	sameSound,
	func(a, b Sound) bool { return a.Unpitched == b.Unpitched && a.MIDI == b.MIDI },
	func(a, b Sound) bool { return a.Unpitched == b.Unpitched },
}

func sameSound(a, b Sound) bool {
	return a.Unpitched == b.Unpitched && a.MIDI == b.MIDI && a.Duration == b.Duration
}

func sameTies(a, b Sound) bool { return a.TieStart == b.TieStart && a.TieStop == b.TieStop }

func compareMoment(want, got []Sound) []Difference {
	var list []Difference
	var room [16]bool // most moments have a note or two
	marks := append(room[:0], make([]bool, len(want)+len(got))...)
	found, taken := marks[:len(want)], marks[len(want):]
	for _, match := range matchings {
		first := 0 // of got that is not taken: notes mostly stand in one order
		for i := range want {
			for first < len(got) && taken[first] {
				first++
			}
			for j := first; j < len(got) && !found[i]; j++ {
				if !taken[j] && match(want[i], got[j]) {
					list = append(list, differences(want[i], got[j])...)
					found[i], taken[j] = true, true
				}
			}
		}
	}
	for i, s := range want {
		if !found[i] {
			list = append(list, Difference{Missing, s.MeasureIndex, s.Measure, s.Beat, s, Sound{}})
		}
	}
	for j, s := range got {
		if !taken[j] {
			list = append(list, Difference{Extra, s.MeasureIndex, s.Measure, s.Beat, Sound{}, s})
		}
	}
	return list
}

// differences compares two notes that belong together.
func differences(want, got Sound) []Difference {
	var kinds []Kind
	switch {
	case want.MIDI != got.MIDI:
		kinds = append(kinds, Sounds)
	case want.Pitch != got.Pitch:
		kinds = append(kinds, Spelled)
	}
	if want.Duration != got.Duration {
		kinds = append(kinds, Lasts)
	}
	if !sameTies(want, got) {
		kinds = append(kinds, TiedElse)
	}
	var list []Difference
	for _, kind := range kinds {
		list = append(list, Difference{kind, want.MeasureIndex, want.Measure, want.Beat, want, got})
	}
	return list
}
