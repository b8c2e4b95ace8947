package marking

import (
	"slices"

	"deskpart/musicxml"
)

// Programs bar alike music differently: an upbeat may stand in a bar filled up
// with rests, the last bar too; a learner may leave barlines out, or write all
// values twice as long. So an answer is read in several ways, and the one that
// comes nearest to the key counts.

// barring is one way to read an answer.
type barring struct {
	*music
	// ratio is by what all values are longer than in the key.
	ratio musicxml.Fraction
	// stream joins notes across barlines, for an answer whose barlines have moved.
	stream bool
	weight int // how unlikely it is, in hundredths of a note
}

// one is the ratio of an answer in its own values.
var one = musicxml.NewFraction(1, 1)

// barrings lists the ways to read an answer, the likeliest first.
func barrings(key, answer *music) []barring {
	own := answer.withUpbeatOf(key)
	list := []barring{{music: own, ratio: one}}
	if len(key.bars) == 0 || len(answer.heads) == 0 {
		return list
	}
	if !sameBars(key, own) {
		list = append(list, barring{music: answer.rebarred(key, one), ratio: one, weight: 30})
	}
	for _, ratio := range []musicxml.Fraction{musicxml.NewFraction(2, 1), musicxml.NewFraction(1, 2)} {
		list = append(list, barring{music: own.scaled(ratio), ratio: ratio, weight: 60}, barring{music: answer.rebarred(key, ratio), ratio: ratio, weight: 65})
	}
	return append(list, barring{music: own, ratio: one, stream: true, weight: 80})
}

func sameBars(a, b *music) bool {
	return slices.EqualFunc(a.bars, b.bars, func(a, b bar) bool { return a.length == b.length })
}

// withUpbeatOf leaves out the rests before an upbeat.
func (m *music) withUpbeatOf(key *music) *music {
	if len(m.heads) == 0 || len(key.bars) < 2 || key.bars[0].length == key.bars[1].length || len(key.heads) == 0 || key.heads[0].onset.Sign() != 0 {
		return m
	}
	first := m.heads[0].bar
	rests := m.bars[first].length.Sub(key.bars[0].length)
	if rests.Sign() <= 0 || m.heads[0].onset.Less(rests) {
		return m
	}
	out := *m
	out.heads = append([]head{}, m.heads...)
	out.bars = append([]bar{}, m.bars...)
	for i := range out.heads {
		if out.heads[i].bar == first {
			out.heads[i].onset = out.heads[i].onset.Sub(rests)
		}
	}
	out.bars[first].length = key.bars[0].length
	return &out
}

// rebarred puts the heads into bars of the key's lengths, by their time from the
// first bar with notes; values that are ratio times as long are made as long as the
// key's. What goes on beyond the key's last bar gets more bars of that length.
func (m *music) rebarred(key *music, ratio musicxml.Fraction) *music {
	t := m.trimmed()
	out := *t
	out.heads = append([]head{}, t.heads...)
	starts := barStarts(t.bars)
	bars := append([]bar{}, key.bars...)
	ends := barStarts(bars)
	last := key.bars[len(key.bars)-1]
	for i := range out.heads {
		h := &out.heads[i]
		at := starts[h.bar].Add(h.onset).Div(ratio)
		for last.length.Sign() > 0 && len(bars) < mostBars && !at.Less(ends[len(bars)]) {
			bars = append(bars, last)
			ends = append(ends, ends[len(ends)-1].Add(last.length))
		}
		h.bar = barAt(ends, at)
		h.onset, h.length = at.Sub(ends[h.bar]), h.length.Div(ratio)
	}
	out.bars = bars
	return &out
}

// scaled makes values that are ratio times as long as long as the key's, and keeps
// the bars.
func (m *music) scaled(ratio musicxml.Fraction) *music {
	out := *m
	out.heads = append([]head{}, m.heads...)
	out.bars = append([]bar{}, m.bars...)
	for i := range out.heads {
		h := &out.heads[i]
		h.onset, h.length = h.onset.Div(ratio), h.length.Div(ratio)
	}
	for i := range out.bars {
		out.bars[i].length = out.bars[i].length.Div(ratio)
	}
	return &out
}

// mostBars bounds the bars of a file that are looked at one by one.
const mostBars = 4000

// barAt is the index of the bar in which a time lies, by the bars' starts and the
// end of the last.
func barAt(starts []musicxml.Fraction, at musicxml.Fraction) int {
	bar := 0
	for bar+2 < len(starts) && !at.Less(starts[bar+1]) {
		bar++
	}
	return bar
}

// barStarts are the times at which bars begin, and that of the end.
func barStarts(bars []bar) []musicxml.Fraction {
	starts := make([]musicxml.Fraction, len(bars)+1)
	for i, b := range bars {
		starts[i+1] = starts[i].Add(b.length)
	}
	return starts
}
