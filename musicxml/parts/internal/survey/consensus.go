package survey

import (
	"slices"

	"deskpart/musicxml"
)

// Consensus is what most parts of the score agree on.
type Consensus struct {
	score   *Score
	bars    int
	lengths []musicxml.Fraction // of the bars, in quarter notes
	keys    []concertKey        // in order
}

// concertKey is the sounding key from a moment on at which it may change.
type concertKey struct {
	at     musicxml.Fraction // from the start of the piece, in quarter notes
	fifths int
	known  bool
}

// Consensus asks all parts. The reading must be settled.
func (c *Score) Consensus() *Consensus {
	agreed := Consensus{score: c}
	var counts []int
	for i := range c.Parts {
		counts = append(counts, len(c.Parts[i].Measures))
	}
	agreed.bars = commonest(counts)
	agreed.lengths = c.barLengths()
	for _, at := range c.keyMoments() {
		agreed.keys = append(agreed.keys, c.concertKeyAt(at))
	}
	return &agreed
}

// barLengths are how long each bar lasts in most parts.
func (c *Score) barLengths() []musicxml.Fraction {
	var usual, lengths []musicxml.Fraction
	for m := 0; ; m++ {
		lengths = lengths[:0]
		present := false
		for i := range c.Parts {
			if m < len(c.Parts[i].Measures) {
				present = true
				if length := c.Parts[i].Measures[m].Length; length.Sign() > 0 {
					lengths = append(lengths, length)
				}
			}
		}
		if !present {
			return usual
		}
		usual = append(usual, commonest(lengths))
	}
}

// keyMoments are the moments at which the key or the transposition of any part
// may change, in order.
func (c *Score) keyMoments() []musicxml.Fraction {
	var moments []musicxml.Fraction
	for i := range c.Parts {
		s := &c.Parts[i]
		for _, key := range s.Keys {
			moments = append(moments, key.At)
		}
		for _, said := range s.Source {
			moments = append(moments, s.startOf(said))
		}
	}
	slices.SortFunc(moments, musicxml.Fraction.Cmp)
	return slices.Compact(moments)
}

// concertKeyAt is the sounding key of most parts at a moment: of those that do not
// transpose, else of all.
func (c *Score) concertKeyAt(at musicxml.Fraction) concertKey {
	var plain, all []int
	for i := range c.Parts {
		s := &c.Parts[i]
		own, traditional := s.keyAt(at)
		if !traditional || s.Notes == 0 || s.unsignedByCustom(own) {
			continue
		}
		by := c.sourceInterval(s, at).Fifths()
		all = append(all, own+by)
		if by == 0 {
			plain = append(plain, own)
		}
	}
	if len(plain) == 0 {
		plain = all
	}
	return concertKey{at, commonest(plain), len(plain) > 0}
}

// commonest returns the value that is there most often, of several the first; the
// zero value of none.
func commonest[T comparable](values []T) T {
	count := map[T]int{}
	var best T
	for _, v := range values {
		count[v]++
	}
	for _, v := range values {
		if count[v] > count[best] {
			best = v
		}
	}
	return best
}
