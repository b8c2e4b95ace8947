package sounding

import (
	"slices"

	"deskpart/musicxml"
)

// Times are the spans of time in which a part sounds, bar by bar. The zero value is
// a part without bars. Times do not change and may be used from several goroutines.
type Times struct{ bars []bar }

// bar is one measure. Its spans are in order and do not touch.
type bar struct {
	number   string // as printed
	beatType string // lower number of the time signature, "" without
	spans    []span
}

// span is a stretch of time within a bar, in quarter notes from its start.
type span struct{ from, to musicxml.Fraction }

// Gap is a stretch of one bar in which the score sounds and what was made of it is
// silent.
type Gap struct {
	Index         int    // of the bar, from 0
	Measure, Beat string // as musicians count them
	// From and To are in quarter notes from the start of the bar.
	From, To musicxml.Fraction
	// Whole: nothing of what sounds in the bar is left.
	Whole bool
}

// Missing lists the stretches in which t sounds and made is silent, in the order of
// time. Bars are taken in order, whatever their numbers are.
func (t Times) Missing(made Times) []Gap {
	var gaps []Gap
	for i := range t.bars {
		score := &t.bars[i]
		var there []span
		if i < len(made.bars) {
			there = made.bars[i].spans
		}
		left := subtract(score.spans, there)
		whole := slices.Equal(left, score.spans)
		for _, s := range left {
			gaps = append(gaps, Gap{Index: i, Measure: score.number, Beat: musicxml.BeatName(s.from, score.beatType), From: s.from, To: s.to, Whole: whole})
		}
	}
	return gaps
}

// Union is when one at least of several parts sounds.
func Union(parts ...Times) Times {
	var all Times
	for _, p := range parts {
		for i := range p.bars {
			if i == len(all.bars) {
				all.bars = append(all.bars, bar{number: p.bars[i].number, beatType: p.bars[i].beatType})
			}
			b := &all.bars[i]
			b.spans = slices.Concat(b.spans, p.bars[i].spans)
		}
	}
	for i := range all.bars {
		all.bars[i].spans = merged(all.bars[i].spans)
	}
	return all
}

// merged puts spans in order and joins those that meet. It uses their memory.
func merged(spans []span) []span {
	slices.SortFunc(spans, func(a, b span) int { return a.from.Cmp(b.from) })
	kept := spans[:0]
	for _, s := range spans {
		if last := len(kept) - 1; last >= 0 && !kept[last].to.Less(s.from) {
			kept[last].to = kept[last].to.Max(s.to)
			continue
		}
		kept = append(kept, s)
	}
	return kept
}

// subtract leaves of spans what none of the others covers. Both are in order.
func subtract(spans, others []span) []span {
	var left []span
	for _, s := range spans {
		for _, o := range others {
			if !o.from.Less(s.to) {
				break
			}
			if !s.from.Less(o.to) {
				continue
			}
			if s.from.Less(o.from) {
				left = append(left, span{s.from, o.from})
			}
			s.from = o.to
			if !s.from.Less(s.to) {
				break
			}
		}
		if s.from.Less(s.to) {
			left = append(left, s)
		}
	}
	return left
}
