package hearing

import "slices"

// Heard is a part as it was taken.
type Heard struct {
	*Part
	Shift int // semitones added to what is written
	// Kin names the parts that stand or fall together, the two clarinets: they are
	// not heard against each other. "" has none.
	Kin string
	// Sure parts are heard, but not doubted.
	Sure bool
}

// Doubt is a part that would sound better otherwise.
type Doubt struct {
	Part int // its place among those that were heard
	// Shift is what to add to the shift that was taken, −6 to 5 semitones.
	Shift int
	// Evidence is for the other shift.
	Evidence
}

// Doubts hears each part at all twelve shifts against the others and names those for
// which another shift is clearly better than the one taken, the clearest first. A
// part that is doubted is heard at its better shift from then on, so that it raises
// no doubts about the others.
func (e *Ear) Doubts(parts []Heard) []Doubt {
	parts = slices.Clone(parts)
	var found []Doubt
	for {
		d, ok := e.clearestDoubt(parts)
		if !ok {
			return found
		}
		found = append(found, d)
		parts[d.Part].Shift += d.Shift
		parts[d.Part].Sure = true
	}
}

// clearestDoubt finds the part that gains most, of equal ones the first.
func (e *Ear) clearestDoubt(parts []Heard) (Doubt, bool) {
	everything := everythingHeard(parts)
	var clearest Doubt
	found := false
	for i := range parts {
		if parts[i].Sure {
			continue
		}
		if d := e.doubt(parts, i, everything); d.exceeds(clearBestOfShift) && (!found || d.Margin > clearest.Margin) {
			clearest, found = d, true
		}
	}
	return clearest, found
}

// everythingHeard counts what sounds in all parts together, moment by moment.
func everythingHeard(parts []Heard) []census {
	n := 0
	for i := range parts {
		n = max(n, len(parts[i].moments))
	}
	all := make([]census, n)
	for i := range parts {
		for moment, notes := range parts[i].moments {
			all[moment].add(notes, parts[i].Shift)
		}
	}
	return all
}

// doubt finds the shift at which a part sounds best, and how much better than at the
// one taken.
func (e *Ear) doubt(parts []Heard, own int, everything []census) Doubt {
	tallies := againstTheRest(parts, own, everything)
	var total tally
	for i := range tallies {
		for semitones, n := range tallies[i] {
			total[semitones] += n
		}
	}
	best := e.bestShift(&total)
	passages := make([]passage, len(tallies))
	for i := range tallies {
		t := &tallies[i]
		// Moving the part up makes the intervals from it up to the others smaller.
		passages[i] = passage{t.sum(), e.worth(t, -best) - e.worth(t, 0)}
	}
	d := Doubt{Part: own, Shift: best, Evidence: weigh(passages)}
	if d.exceeds(clearBestOfShift) {
		d.Evidence = weigh(once(tallies, passages))
	}
	if d.Shift >= 6 {
		d.Shift -= 12
	}
	return d
}

// once joins the passages in which the same is heard: what returns is no new evidence,
// a strophe or a figure of four bars however often it is played.
func once(tallies []tally, passages []passage) []passage {
	place := map[tally]int{}
	var joined []passage
	for i, p := range passages {
		k, again := place[tallies[i]]
		if !again {
			k = len(joined)
			place[tallies[i]] = k
			joined = append(joined, passage{})
		}
		joined[k].intervals += p.intervals
		joined[k].better += p.better
	}
	return joined
}

// bestShift is the shift of 1 to 11 semitones at which a part makes the most
// consonant intervals, of equal ones the smallest.
func (e *Ear) bestShift(t *tally) int {
	best, most := 0, 0
	for shift := 1; shift < 12; shift++ {
		if worth := e.worth(t, -shift); best == 0 || worth > most {
			best, most = shift, worth
		}
	}
	return best
}

// againstTheRest counts, passage by passage, the intervals from a part up to all
// others but its kin.
func againstTheRest(parts []Heard, own int, everything []census) []tally {
	p, kin := &parts[own], kinOf(parts, own)
	tallies := make([]tally, len(p.moments)/perPassage+1)
	for moment, notes := range p.moments {
		if notes == 0 {
			continue
		}
		var now, theirs census
		now.add(notes, p.Shift)
		for _, k := range kin {
			theirs.add(parts[k].at(moment), parts[k].Shift)
		}
		rest := everything[moment]
		for pitch, n := range theirs {
			rest[pitch] -= n
		}
		tallies[moment/perPassage].add(&now, &rest)
	}
	return tallies
}

// kinOf lists the part itself and those that stand or fall with it.
func kinOf(parts []Heard, own int) []int {
	var kin []int
	for i := range parts {
		if i == own || parts[own].Kin != "" && parts[i].Kin == parts[own].Kin {
			kin = append(kin, i)
		}
	}
	return kin
}
