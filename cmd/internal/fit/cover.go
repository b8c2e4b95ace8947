package fit

import "deskpart/instruments"

// coverage is the seating while it grows, line by line.
type coverage struct {
	*caster
	needs    needs
	matching *matching
	lines    []int // that are played, in the order in which they were chosen
	settled  []bool
	chairs   map[int]int // the chair before each, -1 for the first
}

// cover says which lines are played, and by whom: again and again the line by which the
// whole gains most, what the ear would miss of it times how well it suits the player
// who can be had for it; players change among each other for that. It ends with the
// last player or the last line that somebody can sensibly take.
//
// As long as a line leads somewhere where nobody is heard yet, it and the own chairs are
// weighed by what would be missed alone: a tune is not left out for a second flute that
// doubles the first, nor because its instruments are not there.
func (c *caster) cover() []pairing {
	v := coverage{caster: c, needs: c.allNeeds(), matching: newMatching(len(c.players)), settled: make([]bool, len(c.music)), chairs: c.chairs()}
	for {
		line, suits := -1, v.suitsOfBand
		if v.mostMissed(v.leading, suits) >= 0 {
			line = v.mostMissed(v.leadingOrOwn, suits)
		} else {
			suits = v.fits
			line = v.mostMissed(v.worth, suits)
		}
		if line < 0 {
			return v.pairings()
		}
		v.matching.add(v.values(line, v.worth, suits))
		v.settled[line] = true
		v.lines = append(v.lines, line)
		v.needs.play(line, v.octaveOfLast())
	}
}

// worthOf is what a line is worth with a player, as far as this hangs on what the others
// play; below 0 for nothing.
type worthOf func(line, octave int, in *instruments.Instrument) int64

// worth is what the ear misses, and more for a player of the instrument that the line was
// written for.
func (v *coverage) worth(line, octave int, in *instruments.Instrument) int64 {
	missed := v.needs.missed(line, octave)
	if v.isChair(line, in) {
		missed += ownChair
	}
	return missed
}

func (v *coverage) isChair(line int, in *instruments.Instrument) bool {
	_, ok := v.chairs[line]
	return ok && v.hasOwn(line, in)
}

// leading is what the ear misses of a line without which melody or bass would be missing
// for a while, or nothing would sound.
func (v *coverage) leading(line, octave int, _ *instruments.Instrument) int64 {
	if _, leading := v.needs.unheard(line, octave); leading < leastLead {
		return -1
	}
	return v.needs.missed(line, octave)
}

// leadingOrOwn weighs own chairs beside them, unless they only double what is played.
func (v *coverage) leadingOrOwn(line, octave int, in *instruments.Instrument) int64 {
	if !v.isChair(line, in) {
		return v.leading(line, octave, in)
	}
	if unheard, _ := v.needs.unheard(line, octave); unheard < leastLead {
		return unheard
	}
	return int64(forChair * float64(v.needs.missed(line, octave)))
}

// suitsOf is how well a line suits an instrument, 0 where its players would not be given
// it.
type suitsOf func(line int, in *instruments.Instrument) float64

// suitsOfBand measures by whom in the band it suits best: that the violins are missing
// takes nothing from their tune.
func (v *coverage) suitsOfBand(line int, in *instruments.Instrument) float64 {
	best := v.bestFor(line)
	if best == nil {
		return 0
	}
	return v.fits(line, in) / v.fits(line, best)
}

// mostMissed is the line to be played next, -1 for none. Of the chairs of one instrument
// the first comes before the second.
func (v *coverage) mostMissed(worth worthOf, suits suitsOf) int {
	best, most := -1, int64(-1)
	for line := range v.music {
		if v.settled[line] || v.music[line].silent() || v.waits(line) {
			continue
		}
		if gain, ok := v.matching.gain(v.values(line, worth, suits)); ok && gain > most {
			best, most = line, gain
		}
	}
	return best
}

// waits reports whether the chair before a line's is still to be settled.
func (v *coverage) waits(line int) bool {
	before, ok := v.chairs[line]
	return ok && before >= 0 && !v.settled[before]
}

// values are what a line is worth with each player.
func (v *coverage) values(line int, worth worthOf, suits suitsOf) []int64 {
	row := make([]int64, len(v.players))
	of := map[*instruments.Instrument]int64{}
	for p := range v.players {
		in := v.players[p].instrument
		known, ok := of[in]
		if !ok {
			known = v.value(line, in, worth, suits)
			of[in] = known
		}
		row[p] = known
	}
	return row
}

func (v *coverage) value(line int, in *instruments.Instrument, worth worthOf, suits suitsOf) int64 {
	fit := suits(line, in)
	if fit == 0 {
		return forbidden
	}
	amount := worth(line, v.judge(line, in).Octave, in)
	if amount < 0 {
		return forbidden
	}
	return int64(float64(amount+leastMissed) * fit)
}

// forChair is what a note counts for a player of the instrument that it was written for,
// beside a line that leads (taste; common practice, no source).
const forChair = 1.5

// leastLead is the weight from which on a line leads: the melody for a fortieth of the
// time, the bass for a twentyfifth (taste; common practice, no source).
const leastLead = allTheTime / 16

// leastMissed is the weight of a line that adds nothing new, so that it is played by
// whom it suits rather than not at all.
const leastMissed = allTheTime / 100

// octaveOfLast is the octave in which the line is played that was chosen last.
func (v *coverage) octaveOfLast() int {
	for player, row := range v.matching.rowOf {
		if row == len(v.lines)-1 {
			return v.judge(v.lines[row], v.players[player].instrument).Octave
		}
	}
	return 0
}

// pairings are who plays what, in the order of the score.
func (v *coverage) pairings() []pairing {
	playerOf := unassigned(len(v.music))
	for player, row := range v.matching.rowOf {
		if row >= 0 {
			playerOf[v.lines[row]] = player
		}
	}
	var all []pairing
	for line, player := range playerOf {
		if player >= 0 {
			all = append(all, pairing{music: line, player: player})
		}
	}
	return all
}
