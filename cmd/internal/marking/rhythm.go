package marking

import (
	"slices"

	"deskpart/cmd/internal/texts"
	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
)

// rhythmMistakes compares lengths, rests and ties, apart from pitch, and lists the
// bars and notes that are missing and too many. What follows from an earlier slip
// of the same bar is not said again: only where the distance in time changes is
// something wrong.
func (x *examiner) rhythmMistakes() (list []Mistake, wrong map[int]bool) {
	wrong = map[int]bool{}
	list, gone, surplus := x.structureMistakes()
	for _, m := range list {
		if m.Kind == Rhythm {
			for _, i := range m.heads {
				wrong[i] = true
			}
		}
	}
	list = x.missing(list, gone)
	list = x.extras(list, surplus)
	if cause, all := x.scaled(); all {
		var heads []int
		for i := range x.expected.heads {
			if x.known[i] {
				heads = append(heads, i)
				wrong[i] = true
			}
		}
		return x.add(list, finding{kind: Rhythm, rule: RuleRhythm, cause: cause}, heads), wrong
	}
	barsDone := map[int]bool{}
	var run []int
	flush := func() {
		if len(run) > 0 {
			list = x.add(list, finding{kind: Rhythm, rule: RuleRhythm, cause: x.t.Say("marking.rhythm", nil), text: x.rhythmText(run)}, run)
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
	a := x.align.heads[k]
	c.slack = c.slack.Add(x.extraBefore(k, a))
	clash := false
	if a.bar == x.align.barAlignment.to[e.bar] {
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
	for j := k - 1; j >= 0 && x.isExtra(j) && x.align.heads[j].bar == a.bar; j-- {
		if x.align.heads[j].onset != a.onset {
			sum = sum.Add(x.align.heads[j].length)
		}
	}
	return sum
}

func (x *examiner) isExtra(k int) bool { return slices.Contains(x.align.extra, k) }

// explained reports whether a length is wrong only because the next note is
// missing, or one too many follows: one slip, not two.
func (x *examiner) explained(i, k int) bool {
	e, a := x.expected.heads[i], x.align.heads[k]
	if i+1 < len(x.expected.heads) && x.align.to[i+1] < 0 && a.length == e.length.Add(x.expected.heads[i+1].length) {
		return true
	}
	return k+1 < len(x.align.heads) && x.isExtra(k+1) && a.length.Add(x.align.heads[k+1].length) == e.length
}

// missing lists the heads that the answer lacks, those in a row as one mistake, those of
// one part beside the other, too, which cost each; those of whole bars are told already.
func (x *examiner) missing(list []Mistake, gone map[int]bool) []Mistake {
	add := func(heads []int) {
		if len(heads) > 0 {
			note := x.t.Pitch(x.wanted[heads[0]])
			list = x.add(list, finding{kind: Missing, rule: RuleNotesMissing, cause: x.t.Say("marking.cause-notes-missing", nil),
				text: x.t.Say("marking.notes-missing", texts.Fill{"n": len(heads), "note": note})}, heads)
		}
	}
	var run, beside []int
	for i, k := range x.align.to {
		switch {
		case k >= 0 || gone[i]:
			add(run)
			run = nil
		case x.stands(i-1) && x.chordWith(i), x.stands(i+1) && x.chordWith(i+1):
			beside = append(beside, i)
		default:
			run = append(run, i)
		}
	}
	add(run)
	if add(beside); len(beside) > 0 {
		list[len(list)-1].costs = len(beside)
	}
	return list
}

// stands reports whether the answer has an expected head.
func (x *examiner) stands(i int) bool { return i >= 0 && i < len(x.align.to) && x.align.to[i] >= 0 }

// extras lists the heads that are too many, but for those of whole bars. Those that stand
// at once with an answer leave it open which is meant: that answer is not right.
func (x *examiner) extras(list []Mistake, surplus map[int]bool) []Mistake {
	var left, beside, heads []int
	for _, k := range x.align.extra {
		switch i := x.beside(k); {
		case surplus[k]:
		case i < 0:
			left = append(left, k)
		default:
			beside, heads = append(beside, k), append(heads, i)
		}
	}
	if len(beside) > 0 {
		first := x.t.Pitch(x.align.heads[beside[0]].pitch)
		list = x.add(list, finding{kind: Extra, rule: RuleNotesExtra, cause: x.t.Say("marking.cause-notes-extra", nil),
			text: x.t.Say("marking.notes-at-once", texts.Fill{"n": len(beside), "note": first})}, slices.Compact(heads))
		m := &list[len(list)-1]
		m.extra, m.costs = beside, len(m.heads)
	}
	for n := 0; n < len(left); n++ {
		run := []int{left[n]}
		for n+1 < len(left) && left[n+1] == left[n]+1 {
			n++
			run = append(run, left[n])
		}
		list = append(list, x.extraMistake(run))
	}
	return list
}

// beside is the expected head whose answer stands at once with a head too many; -1 for none.
func (x *examiner) beside(extra int) int {
	e := x.align.heads[extra]
	return slices.IndexFunc(x.align.to, func(k int) bool {
		return k >= 0 && x.align.heads[k].bar == e.bar && x.align.heads[k].onset == e.onset
	})
}

// extraMistake says where notes are too many.
func (x *examiner) extraMistake(run []int) Mistake {
	first := x.align.heads[run[0]]
	bar := max(slices.Index(x.align.barAlignment.to, first.bar), 0)
	text := x.t.Say("marking.notes-extra", texts.Fill{"n": len(run), "note": x.t.Pitch(first.pitch)})
	return Mistake{Kind: Extra, Rule: RuleNotesExtra, Measure: x.expected.bars[bar].number, Beat: first.beat, Place: x.placeText(bar, first),
		Notes: len(run), Text: text, Cause: x.t.Say("marking.cause-notes-extra", nil), extra: run, after: bar, costs: 1}
}

// ties compares the ties over barlines; where another bar follows than should, there
// is nothing to tie to.
func (x *examiner) ties(list []Mistake, wrong map[int]bool) []Mistake {
	for i, e := range x.expected.heads {
		k := x.align.to[i]
		if k < 0 || wrong[i] || e.tieTo == x.align.heads[k].tieTo || x.seamAfter(i) {
			continue
		}
		cause := x.t.Say("marking.tie-missing", nil)
		if !e.tieTo {
			cause = x.t.Say("marking.tie-extra", nil)
		}
		list = x.add(list, finding{kind: Rhythm, rule: RuleTie, cause: cause}, []int{i})
		wrong[i] = true
	}
	return list
}

// seamAfter reports whether the bar behind a head's is not the next one.
func (x *examiner) seamAfter(i int) bool {
	bar := x.expected.heads[i].bar
	to := x.align.barAlignment.to
	if i+1 < len(x.known) && !x.known[i+1] {
		return true
	}
	return bar+1 < len(to) && to[bar+1] != to[bar]+1
}

// shortBars finds bars in which only the rests are wrong. A bar whose time is not full is a
// fault of rhythm, and costs once (trade/teaching.md §4: rests and bar sums are rhythm).
func (x *examiner) shortBars(list []Mistake, done map[int]bool) []Mistake {
	for i, b := range x.expected.bars {
		k := x.align.barAlignment.to[i]
		if k < 0 || done[i] || x.align.barAlignment.role[i] != barKept || x.align.music.bars[k].length == b.length || x.tookPart(i) {
			continue
		}
		is := x.align.music.bars[k].length
		if i == len(x.expected.bars)-1 && b.length.Less(is) {
			continue // programs fill the last bar up
		}
		text := x.t.Say("marking.bar-too-long", texts.Fill{"bar": x.barsText(b.number)})
		if is.Less(b.length) {
			text = x.t.Say("marking.bar-too-short", texts.Fill{"bar": x.barsText(b.number)})
		}
		list = append(list, Mistake{Kind: Rhythm, Rule: RuleRest, Measure: b.number, Beat: "1", Place: x.barsText(b.number), Text: text,
			Cause: x.t.Say("marking.cause-rests", nil), after: i, costs: 1})
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
	return slices.ContainsFunc(x.align.extra, func(k int) bool { return x.align.heads[k].bar == x.align.barAlignment.to[bar] })
}

// scaled reports whether all values are twice or half as long as they should be.
func (x *examiner) scaled() (cause string, all bool) {
	ratio := x.align.ratio
	if ratio == one {
		ratio = x.commonRatio()
	}
	switch ratio {
	case musicxml.NewFraction(2, 1):
		return x.t.Say("marking.twice-as-long", nil), true
	case musicxml.NewFraction(1, 2):
		return x.t.Say("marking.half-as-long", nil), true
	}
	return "", false
}

// commonRatio is by what all values are longer than they should be, where it is the
// same for all in the same bars.
func (x *examiner) commonRatio() musicxml.Fraction {
	var ratio musicxml.Fraction
	count := 0
	for i, e := range x.expected.heads {
		k := x.align.to[i]
		if k < 0 || e.length.Sign() == 0 {
			return one
		}
		r := x.align.heads[k].length.Div(e.length)
		if count > 0 && r != ratio {
			return one
		}
		ratio = r
		count++
	}
	if count < 2 || len(x.align.extra) > 0 {
		return one
	}
	return ratio
}

// rhythmText says what the values are and should be.
func (x *examiner) rhythmText(heads []int) string {
	e := x.expected.heads[heads[0]]
	a := x.align.heads[x.align.to[heads[0]]]
	what := x.t.Say("marking.rhythm", nil)
	switch {
	case len(heads) > 1:
		return what
	case a.length != e.length:
		return x.because(what, x.inPlaceOf(x.valueText(a.length), x.valueText(e.length)))
	}
	return x.because(what, x.t.Say("marking.wrong-moment", nil))
}

// valueText names a length by its note: "a dotted quarter note".
func (x *examiner) valueText(length musicxml.Fraction) string {
	for v := engraving.Breve; v <= engraving.ThirtySecond; v++ {
		for dots := range 3 {
			if engraving.Length(v, dots, engraving.Ratio{}) == length {
				if name, known := x.t.Value(v.String(), dots, false); known {
					return name
				}
			}
		}
		if engraving.Length(v, 0, engraving.Ratio{Actual: 3, Normal: 2}) == length {
			if name, known := x.t.Value(v.String(), 0, true); known {
				return name
			}
		}
	}
	return x.t.OtherValue(length.String())
}
