package marking

import (
	"fmt"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
)

// rhythmMistakes compares lengths, rests and ties, apart from pitch, and lists the
// notes that are missing and too many. What follows from an earlier slip of the
// same bar is not said again: only where the distance in time changes is
// something wrong.
func (x *examiner) rhythmMistakes() (list []Mistake, wrong map[int]bool) {
	wrong = map[int]bool{}
	if text, all := x.scaled(); all {
		var heads []int
		for i := range x.expected.heads {
			heads = append(heads, i)
			wrong[i] = true
		}
		return x.add(list, Rhythm, text, text, heads), wrong
	}
	list = x.missing(list)
	list = x.extras(list)
	barsDone := map[int]bool{}
	var run []int
	flush := func() {
		if len(run) > 0 {
			list = x.add(list, Rhythm, "rhythm miscopied", x.rhythmText(run), run)
			barsDone[x.expected.heads[run[0]].bar] = true
			run = nil
		}
	}
	c := clock{}
	for i, e := range x.expected.heads {
		if len(run) > 0 && x.expected.heads[run[0]].bar != e.bar {
			flush()
		}
		if x.clashes(&c, i) {
			run = append(run, i)
			wrong[i] = true
		}
	}
	flush()
	list = x.ties(list, wrong)
	return x.shortBars(list, barsDone), wrong
}

// clock follows, within a bar, how far the answer has moved in time against the
// right one.
type clock struct {
	bar   int
	begun bool
	shift musicxml.Fraction
	// slack is what notes missing and too many account for.
	slack musicxml.Fraction
}

// clashes reports whether a head lasts or begins otherwise than it should, beyond
// what came before it.
func (x *examiner) clashes(c *clock, i int) bool {
	e := x.expected.heads[i]
	if !c.begun || c.bar != e.bar {
		*c = clock{bar: e.bar, begun: true}
	}
	k := x.align.to[i]
	if k < 0 {
		if !x.chordWith(i) {
			c.slack = c.slack.Sub(e.length)
		}
		return false
	}
	a := x.answer.heads[k]
	c.slack = c.slack.Add(x.extraBefore(k, a))
	clash := false
	if a.bar == e.bar {
		now := a.onset.Sub(e.onset)
		if now != c.shift && now != c.shift.Add(c.slack) {
			clash = true
		}
		c.shift, c.slack = now, musicxml.Fraction{}
	}
	if a.length != e.length {
		if !x.explained(i, k) {
			clash = true
		}
		c.shift = c.shift.Add(a.length).Sub(e.length)
	}
	return clash
}

// chordWith reports whether a head stands in a chord with the one before it.
func (x *examiner) chordWith(i int) bool {
	if i == 0 {
		return false
	}
	a, b := x.expected.heads[i-1], x.expected.heads[i]
	return a.bar == b.bar && a.onset == b.onset
}

// extraBefore is the length of the answer's surplus heads right before head k, in
// its bar.
func (x *examiner) extraBefore(k int, a head) musicxml.Fraction {
	var sum musicxml.Fraction
	for j := k - 1; j >= 0 && x.isExtra(j) && x.answer.heads[j].bar == a.bar; j-- {
		if x.answer.heads[j].onset != a.onset {
			sum = sum.Add(x.answer.heads[j].length)
		}
	}
	return sum
}

func (x *examiner) isExtra(k int) bool {
	for _, j := range x.align.extra {
		if j == k {
			return true
		}
	}
	return false
}

// explained reports whether a length is wrong only because the next note is
// missing, or one too many follows: one slip, not two.
func (x *examiner) explained(i, k int) bool {
	e, a := x.expected.heads[i], x.answer.heads[k]
	if i+1 < len(x.expected.heads) && x.align.to[i+1] < 0 && a.length == e.length.Add(x.expected.heads[i+1].length) {
		return true
	}
	return k+1 < len(x.answer.heads) && x.isExtra(k+1) && a.length.Add(x.answer.heads[k+1].length) == e.length
}

// missing lists the heads that the answer lacks, those in a row as one mistake.
func (x *examiner) missing(list []Mistake) []Mistake {
	var run []int
	flush := func() {
		if len(run) > 0 {
			text := "a note is missing: " + x.wanted[run[0]].String()
			if len(run) > 1 {
				text = counted(len(run), "note") + " are missing"
			}
			list = x.add(list, Missing, "notes missing", text, run)
			run = nil
		}
	}
	for i, k := range x.align.to {
		if k >= 0 {
			flush()
			continue
		}
		run = append(run, i)
	}
	flush()
	return list
}

// extras lists the heads that are too many.
func (x *examiner) extras(list []Mistake) []Mistake {
	for n := 0; n < len(x.align.extra); n++ {
		first := x.answer.heads[x.align.extra[n]]
		count := 1
		for n+1 < len(x.align.extra) && x.align.extra[n+1] == x.align.extra[n]+1 {
			n++
			count++
		}
		text := "a note too many: " + first.pitch.String()
		if count > 1 {
			text = counted(count, "note") + " too many"
		}
		m := Mistake{Kind: Extra, Measure: first.measure, Beat: first.beat, Notes: count, Text: text, Cause: "notes too many"}
		if first.bar < len(x.expected.numbers) {
			m.Measure = x.expected.numbers[first.bar]
		}
		list = append(list, m)
	}
	return list
}

// ties compares the ties over barlines.
func (x *examiner) ties(list []Mistake, wrong map[int]bool) []Mistake {
	for i, e := range x.expected.heads {
		k := x.align.to[i]
		if k < 0 || wrong[i] || e.tieTo == x.answer.heads[k].tieTo {
			continue
		}
		text := "the tie over the barline is missing"
		if !e.tieTo {
			text = "a tie too many"
		}
		list = x.add(list, Rhythm, text, text, []int{i})
		wrong[i] = true
	}
	return list
}

// shortBars finds bars in which only the rests are wrong.
func (x *examiner) shortBars(list []Mistake, done map[int]bool) []Mistake {
	for bar, length := range x.expected.lengths {
		if bar >= len(x.answer.lengths) || done[bar] || x.answer.lengths[bar] == length || x.tookPart(bar) {
			continue
		}
		if bar == len(x.expected.lengths)-1 && length.Less(x.answer.lengths[bar]) {
			continue // programs fill the last bar up
		}
		text := fmt.Sprintf("bar %s is too long: a rest too many", x.expected.numbers[bar])
		if x.answer.lengths[bar].Less(length) {
			text = fmt.Sprintf("bar %s is too short: a rest is missing", x.expected.numbers[bar])
		}
		m := Mistake{Kind: Rhythm, Measure: x.expected.numbers[bar], Beat: "1", Text: text, Cause: "rests miscopied"}
		list = append(list, m)
	}
	return list
}

// tookPart reports whether notes are missing from a bar or too many in it, which
// explains its length.
func (x *examiner) tookPart(bar int) bool {
	for i, k := range x.align.to {
		if k < 0 && x.expected.heads[i].bar == bar {
			return true
		}
	}
	for _, k := range x.align.extra {
		if x.answer.heads[k].bar == bar {
			return true
		}
	}
	return false
}

// scaled reports whether all values are twice or half as long as they should be,
// in any barring.
func (x *examiner) scaled() (text string, all bool) {
	if len(x.expected.heads) < 2 || len(x.align.extra) > 0 {
		return "", false
	}
	var ratio musicxml.Fraction
	for i, e := range x.expected.heads {
		k := x.align.to[i]
		if k < 0 || e.length.Sign() == 0 {
			return "", false
		}
		r := x.answer.heads[k].length.Div(e.length)
		if i > 0 && r != ratio {
			return "", false
		}
		ratio = r
	}
	switch ratio {
	case musicxml.NewFraction(2, 1):
		return "all values are twice as long as in the question", true
	case musicxml.NewFraction(1, 2):
		return "all values are half as long as in the question", true
	}
	return "", false
}

// rhythmText says what the values are and should be.
func (x *examiner) rhythmText(heads []int) string {
	e := x.expected.heads[heads[0]]
	a := x.answer.heads[x.align.to[heads[0]]]
	switch {
	case len(heads) > 1:
		return "rhythm miscopied"
	case a.length != e.length:
		return fmt.Sprintf("rhythm miscopied: %s in place of %s", valueText(a.length), valueText(e.length))
	}
	return "rhythm miscopied: a note at the wrong place in the bar"
}

// valueText names a length by its note: "a dotted quarter note".
func valueText(length musicxml.Fraction) string {
	for v := engraving.Breve; v <= engraving.ThirtySecond; v++ {
		for dots, word := range []string{"", "dotted ", "double dotted "} {
			if engraving.Length(v, dots, engraving.Ratio{}) == length {
				return withA(word + v.String() + " note")
			}
		}
		if engraving.Length(v, 0, engraving.Ratio{Actual: 3, Normal: 2}) == length {
			return withA(v.String() + " note of a triplet")
		}
	}
	return fmt.Sprintf("a length of %s quarter notes", length)
}
