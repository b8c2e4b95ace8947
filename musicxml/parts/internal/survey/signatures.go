package survey

import "deskpart/musicxml/notice"

// bySignatures tells a concert score from a written one that says nothing by its first
// signatures: in written pitch those of the transposing parts differ from the others',
// and among themselves, by their intervals' places on the line of fifths.
func (c *Score) bySignatures() verdict {
	var silent []signature
	concert := tonic{}
	for i := range c.Parts {
		s := &c.Parts[i]
		switch own, ok := c.signatureOf(s); {
		case !ok:
		case s.silent():
			silent = append(silent, own)
		case s.Declared() || s.Match.Instrument != nil:
			concert.add(own.written)
		}
	}
	same, shifted := votes(silent, concert)
	switch {
	case shifted > same:
		return verdict{reading: Written, why: haveSignatures(shifted, "a signature that differs", "signatures that differ") + " from the others' by the interval"}
	case same > shifted:
		return verdict{reading: Concert, why: haveSignatures(same, "the same signature", "the same signature") + " as the others"}
	}
	return verdict{}
}

// signature is a part's first one, in fifths, in both readings.
type signature struct{ asItStands, written int }

// signatureOf is what a part's signature says; ok is false where it says nothing:
// none, that of kettledrums and of brass without sharps and flats, which are written
// so in any key, or one of a part whose interval is a guess. One that an interval leaves as
// it is speaks for both readings alike.
func (c *Score) signatureOf(s *Part) (own signature, ok bool) {
	if s.Notes == 0 || len(s.Keys) == 0 || !s.Keys[0].Traditional || s.unsignedByCustom(s.Keys[0].Fifths) || s.kettledrums() {
		return signature{}, false
	}
	own.asItStands = s.Keys[0].Fifths
	own.written = own.asItStands
	switch {
	case len(s.Source) > 0:
		own.written += s.Source[0].To.Interval().Fifths()
	case s.silent():
		if !s.Match.KeyStated && s.Match.Assumed {
			return signature{}, false
		}
		own.written += s.Match.Instrument.Interval().Fifths()
	}
	return own, true
}

func (s *Part) kettledrums() bool {
	return s.Match.Instrument != nil && s.Match.Instrument.Family == "timpani"
}

// votes counts the silent parts whose signature fits the sounding key as it stands, and
// those whose does as its player reads it. Where no other part tells the key, the key
// is that in which most of them agree.
func votes(silent []signature, concert tonic) (same, shifted int) {
	key, known := concert.most()
	if !known {
		return agreement(silent, func(s signature) int { return s.asItStands }), agreement(silent, func(s signature) int { return s.written })
	}
	for _, s := range silent {
		if inKey(s.asItStands, key) {
			same++
		}
		if inKey(s.written, key) {
			shifted++
		}
	}
	return same, shifted
}

// inKey compares signatures, an enharmonic twin with its own.
func inKey(fifths, key int) bool { return (fifths-key)%12 == 0 }

// agreement is how many of some signatures are alike, the most of any.
func agreement(all []signature, fifths func(signature) int) int {
	t := tonic{}
	for _, s := range all {
		t.add(fifths(s))
	}
	key, _ := t.most()
	return t[key]
}

// tonic counts signatures by their place in the circle of fifths.
type tonic [12]int

func (t *tonic) add(fifths int) { t[(fifths%12+12)%12]++ }

// most is the signature that is there most often, of several the one with fewest sharps.
func (t *tonic) most() (fifths int, known bool) {
	for k, n := range t {
		if n > t[fifths] {
			fifths = k
		}
	}
	return fifths, t[fifths] > 0
}

func haveSignatures(n int, one, several string) string {
	return notice.Counted(n, "transposing part has "+one, "transposing parts have "+several)
}
