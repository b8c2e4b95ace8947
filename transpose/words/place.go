package words

import (
	"strconv"
	"strings"
)

// Metre is a time signature: so many units, each the so-manyeth part of a whole
// note. Default: none, counted in quarter notes.
type Metre struct{ Beats, Unit int }

// compound reports whether three units are one beat: 6/8, 9/8, 12/8, 6/4 (3/8 is
// counted in three by learners; common practice, no source).
func (m Metre) compound() bool { return m.Unit >= 4 && m.Beats >= 6 && m.Beats%3 == 0 }

// Beat says a place in a bar as people do: "beat 2 and a half", in 6/8 "beat 2,
// third eighth note". The onset is num/den quarter notes after the barline.
func (n *Names) Beat(num, den int64, m Metre) string {
	if m.Unit == 0 {
		m = Metre{4, 4}
	}
	num *= int64(m.Unit) // in units: onset · unit / 4
	den *= 4
	beat, rest := num/den, num%den
	if m.compound() {
		inBeat := beat % 3
		if unit := n.unit(m.Unit); inBeat > 0 && rest == 0 && unit != "" {
			return n.unitOfThree(beat/3+1, inBeat, unit)
		}
		den *= 3
		beat, rest = num/den, num%den
	}
	at := Fill{"n": int(beat + 1)}
	for _, part := range []struct {
		num, den int64
		key      string
	}{{0, 1, "beat"}, {1, 2, "beat.half"}, {1, 3, "beat.third"}, {2, 3, "beat.two-thirds"}, {1, 4, "beat.quarter"}, {3, 4, "beat.three-quarters"}} {
		if rest*part.den == part.num*den {
			return n.term(part.key, at)
		}
	}
	return n.term("beat.after", at)
}

// unit names a note value by its part of a whole note, "" where it has no name
// here.
func (n *Names) unit(value int) string {
	key := "unit." + strconv.Itoa(value)
	if !n.terms.Has(key) {
		return ""
	}
	return n.term(key, nil)
}

// unitOfThree says the second or third unit of a beat of three.
func (n *Names) unitOfThree(beat, place int64, unit string) string {
	key := "beat.second-of-three"
	if place == 2 {
		key = "beat.third-of-three"
	}
	return n.term(key, Fill{"n": int(beat), "value": unit})
}

// Bars says bars by their numbers, those that follow one another as a range: "bar
// 3", "bars 1–4", "bars 1, 3 and 7".
func (n *Names) Bars(numbers []string) string {
	if len(numbers) == 1 {
		return n.term("bar", Fill{"n": numbers[0]})
	}
	runs := InRuns(numbers, func(from, to string) string { return n.term("range", Fill{"a": from, "b": to}) })
	list := runs[len(runs)-1]
	if len(runs) > 1 {
		list = n.And(strings.Join(runs[:len(runs)-1], ", "), list)
	}
	return n.term("bars", Fill{"list": list})
}

// InRuns lists the numbers of bars, three and more that follow one another as a range.
func InRuns(numbers []string, rangeOf func(from, to string) string) (list []string) {
	for i := 0; i < len(numbers); {
		k := i
		for k+1 < len(numbers) && follows(numbers[k], numbers[k+1]) {
			k++
		}
		if k > i+1 {
			list = append(list, rangeOf(numbers[i], numbers[k]))
		} else {
			list = append(list, numbers[i:k+1]...)
		}
		i = k + 1
	}
	return list
}

// follows reports whether a bar's number is the one after another's.
func follows(a, b string) bool {
	x, errX := strconv.Atoi(a)
	y, errY := strconv.Atoi(b)
	return errX == nil && errY == nil && y == x+1
}
