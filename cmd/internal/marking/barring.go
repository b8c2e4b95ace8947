package marking

import "deskpart/musicxml"

// Programs bar alike music differently: an upbeat may stand in a bar filled up
// with rests, the last bar too; a learner may leave barlines out. Before an answer
// is compared, its heads are put into the bars of the key.

// inBarsOf returns the answer in the bars of the key, where both have the same
// music otherwise; the answer itself stays as it is.
func (m *music) inBarsOf(key *music) *music {
	if len(m.heads) == 0 || len(key.lengths) == 0 {
		return m
	}
	out := *m
	out.heads = append([]head{}, m.heads...)
	out.lengths = append([]musicxml.Fraction{}, m.lengths...)
	out.numbers = append([]string{}, m.numbers...)
	out.takeUpbeat(key)
	if len(out.lengths) != len(key.lengths) {
		out.rebar(key)
	}
	return &out
}

// takeUpbeat leaves out the rests before an upbeat.
func (m *music) takeUpbeat(key *music) {
	rests := m.lengths[0].Sub(key.lengths[0])
	if rests.Sign() <= 0 || key.heads[0].onset.Sign() != 0 || len(key.lengths) < 2 || key.lengths[0] == key.lengths[1] {
		return
	}
	for _, h := range m.heads {
		if h.bar == 0 && h.onset.Less(rests) {
			return
		}
	}
	for i := range m.heads {
		if m.heads[i].bar == 0 {
			m.heads[i].onset = m.heads[i].onset.Sub(rests)
		}
	}
	m.lengths[0] = key.lengths[0]
}

// rebar puts the heads into the key's bars by their time from the beginning, in
// values twice or half as long, too.
func (m *music) rebar(key *music) {
	starts := barStarts(m.lengths)
	bars := barStarts(key.lengths)
	total, own := bars[len(key.lengths)], starts[len(m.lengths)]
	ratio := musicxml.NewFraction(1, 1)
	for _, r := range []musicxml.Fraction{musicxml.NewFraction(2, 1), musicxml.NewFraction(1, 2)} {
		if own == total.Mul(r) {
			ratio = r
		}
	}
	if own.Div(ratio) != total {
		return
	}
	for i := range m.heads {
		h := &m.heads[i]
		at := starts[h.bar].Add(h.onset).Div(ratio)
		bar := 0
		for bar+1 < len(key.lengths) && !at.Less(bars[bar+1]) {
			bar++
		}
		h.bar, h.onset = bar, at.Sub(bars[bar]).Mul(ratio)
	}
	m.lengths, m.numbers = key.lengths, key.numbers
}

// barStarts are the times at which bars begin, and that of the end.
func barStarts(lengths []musicxml.Fraction) []musicxml.Fraction {
	starts := make([]musicxml.Fraction, len(lengths)+1)
	for i, l := range lengths {
		starts[i+1] = starts[i].Add(l)
	}
	return starts
}
