package marking

import (
	"slices"

	"deskpart/cmd/internal/texts"
)

// structureMistakes names bars that are left out, blank, broken off, swapped or too many,
// each run as one mistake, and returns the expected heads and the answer's heads
// that they account for.
func (x *examiner) structureMistakes() (list []Mistake, gone, surplus map[int]bool) {
	gone, surplus = map[int]bool{}, map[int]bool{}
	for _, run := range x.lostRuns() {
		m := x.lostMistake(run)
		for _, i := range m.heads {
			gone[i] = true
		}
		list = append(list, m)
	}
	for _, e := range x.align.barAlignment.exchanged {
		text := x.t.Say("marking.bars-swapped", texts.Fill{"bars": x.barsText(x.barNumbers(e.these)...), "others": x.barsText(x.barNumbers(e.those)...)})
		list = append(list, x.orderMistake(x.t.Say("marking.cause-bars-swapped", nil), text, slices.Concat(e.these, e.those)))
	}
	for _, m := range x.align.barAlignment.moved {
		fill := texts.Fill{"bars": x.barsText(x.barNumbers(m.bars)...)}
		text := x.t.Say("marking.bars-moved-first", fill)
		if m.behind >= 0 {
			fill["bar"] = x.barsText(x.barNumbers([]int{m.behind})...)
			text = x.t.Say("marking.bars-moved", fill)
		}
		list = append(list, x.orderMistake(x.t.Say("marking.cause-bars-moved", nil), text, m.bars))
	}
	for _, run := range x.addedRuns() {
		m := x.addedMistake(run)
		for _, k := range m.extra {
			surplus[k] = true
		}
		list = append(list, m)
	}
	return list, gone, surplus
}

// orderMistake is bars that stand in another order, with a text that says which.
func (x *examiner) orderMistake(cause, text string, bars []int) Mistake {
	var heads []int
	for _, bar := range bars {
		heads = append(heads, x.headsOf(bar)...)
	}
	m := x.add(nil, finding{kind: Rhythm, rule: RuleBarsSwapped, cause: cause}, heads)[0]
	m.Text, m.Place = text, x.barsText(x.barNumbers(bars[:1])...) // the text says which bars
	return m
}

// lostRuns lists the runs of expected bars with notes that the answer does not have.
func (x *examiner) lostRuns() [][]int {
	var runs [][]int
	open := false
	for i := range x.expected.bars {
		if e, _ := x.expected.inBar(i); len(e) == 0 {
			continue // a bar of rest neither ends a run nor makes one
		}
		switch lost := x.align.barAlignment.role[i] != barKept; {
		case lost && open:
			runs[len(runs)-1] = append(runs[len(runs)-1], i)
		case lost:
			runs = append(runs, []int{i})
		}
		open = x.align.barAlignment.role[i] != barKept
	}
	return runs
}

// lostMistake says what became of a run of bars.
func (x *examiner) lostMistake(run []int) Mistake {
	var heads []int
	for _, bar := range run {
		heads = append(heads, x.headsOf(bar)...)
	}
	bars := x.barsText(x.barNumbers(run)...)
	f := finding{kind: Missing, rule: RuleBarsMissing, cause: x.t.Say("marking.cause-bars-missing", nil)}
	if x.isTail(heads) {
		heads = append(x.brokenOff(heads[0]), heads...)
		first := x.expected.heads[heads[0]]
		f.cause = x.t.Say("marking.cause-breaks-off", nil)
		f.text = x.t.Say("marking.breaks-off", texts.Fill{"place": x.placeText(first.bar, first)})
		return x.add(nil, f, heads)[0]
	}
	switch {
	case heads[0] == 0:
		f.text = x.t.Say("marking.begins-late", texts.Fill{"bars": bars, "n": len(run)})
	case x.allVacant(run):
		f.text = x.t.Say("marking.bars-blank", texts.Fill{"bars": bars, "n": len(run)})
	default:
		f.text = x.t.Say("marking.bars-left-out", texts.Fill{"bars": bars, "n": len(run)})
	}
	m := x.add(nil, f, heads)[0]
	m.Text, m.Place = f.text, x.barsText(x.barNumbers(run[:1])...) // the text says which bars
	return m
}

func (x *examiner) headsOf(bar int) []int {
	e, first := x.expected.inBar(bar)
	list := make([]int, len(e))
	for i := range list {
		list[i] = first + i
	}
	return list
}

func (x *examiner) isTail(heads []int) bool {
	return heads[len(heads)-1] == len(x.expected.heads)-1 && heads[0] > 0
}

// brokenOff lists the heads right before one that are missing, too: the answer
// broke off within their bar.
func (x *examiner) brokenOff(first int) []int {
	var heads []int
	bar := x.expected.heads[first-1].bar
	for i := first - 1; i >= 0 && x.align.to[i] < 0 && x.expected.heads[i].bar == bar; i-- {
		heads = append([]int{i}, heads...)
	}
	return heads
}

func (x *examiner) allVacant(run []int) bool {
	return !slices.ContainsFunc(run, func(i int) bool { return x.align.barAlignment.role[i] != barVacant })
}

// addedRuns lists the runs of the answer's bars with notes that are too many.
func (x *examiner) addedRuns() [][]int {
	var runs [][]int
	a := &x.align.barAlignment
	for n, k := range a.added {
		if g, _ := x.align.inBar(k); len(g) == 0 {
			continue
		}
		if n > 0 && len(runs) > 0 {
			last := runs[len(runs)-1]
			if before := last[len(last)-1]; before == k-1 && a.after[before] == a.after[k] && a.twice[before] == a.twice[k] {
				runs[len(runs)-1] = append(last, k)
				continue
			}
		}
		runs = append(runs, []int{k})
	}
	return runs
}

// addedMistake says what bars too many are.
func (x *examiner) addedMistake(run []int) Mistake {
	a := &x.align.barAlignment
	after := max(a.after[run[0]], 0)
	f := finding{kind: Extra, rule: RuleBarsExtra, cause: x.t.Say("marking.cause-bars-extra", nil)}
	bars := []int{after}
	if a.twice[run[0]] {
		f.cause = x.t.Say("marking.cause-bars-twice", nil)
		for len(bars) < len(run) && bars[0] > 0 {
			bars = append([]int{bars[0] - 1}, bars...)
		}
		f.text = x.t.Say("marking.bars-twice", texts.Fill{"bars": x.barsText(x.barNumbers(bars)...), "n": len(bars)})
	} else {
		f.text = x.t.Say("marking.bars-extra", texts.Fill{"bars": x.barsText(x.barNumbers(bars)...), "n": len(run)})
	}
	m := Mistake{Kind: f.kind, Rule: f.rule, Cause: f.cause, Text: f.text, costs: 1, after: after, Measure: x.expected.bars[after].number, Beat: "1"}
	m.Place = x.barsText(x.barNumbers([]int{after})...)
	for _, k := range run {
		g, first := x.align.inBar(k)
		for n := range g {
			m.extra = append(m.extra, first+n)
		}
	}
	m.Notes = len(m.extra)
	return m
}
