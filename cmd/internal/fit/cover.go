package fit

import "deskpart/instruments"

// coverage is the seating while it grows, line by line.
type coverage struct {
	*caster
	needs   needs
	seats   *seats
	lines   []int // that are played, in the order in which they were chosen
	settled []bool
	chairs  map[int]chair
}

// cover says which lines are played, and by whom: again and again the line by which the
// whole gains most, what the ear would miss of it times how well it suits the player
// who can be had for it; players change among each other for that. It ends with the
// last player or the last line that somebody can sensibly take.
func (c *caster) cover() []pairing {
	v := coverage{caster: c, needs: c.allNeeds(), seats: newSeats(len(c.players)), settled: make([]bool, len(c.music)), chairs: c.chairs()}
	for {
		line, values := v.mostMissed()
		if line < 0 {
			return v.pairings()
		}
		v.seats.add(values)
		v.settled[line] = true
		v.lines = append(v.lines, line)
		v.needs.play(line, v.octaveOfLast())
	}
}

// mostMissed is the line to be played next, with its value for each player; -1 for
// none. Of the chairs of one instrument the first comes before the second.
func (v *coverage) mostMissed() (int, []int64) {
	best, most := -1, int64(-1)
	var values []int64
	for line := range v.music {
		if v.settled[line] || v.music[line].silent() || v.waits(line) {
			continue
		}
		row := v.values(line)
		if gain, ok := v.seats.gain(row); ok && gain > most {
			best, most, values = line, gain, row
		}
	}
	return best, values
}

// waits reports whether the chair before a line's is still to be settled.
func (v *coverage) waits(line int) bool {
	own, ok := v.chairs[line]
	return ok && own.after >= 0 && !v.settled[own.after]
}

// values are what a line is worth with each player.
func (v *coverage) values(line int) []int64 {
	missed := map[int]int64{} // by octave
	row := make([]int64, len(v.players))
	of := map[*instruments.Instrument]int64{}
	for p := range v.players {
		in := v.players[p].instrument
		known, ok := of[in]
		if !ok {
			known = v.value(line, p, missed)
			of[in] = known
		}
		row[p] = known
	}
	return row
}

func (v *coverage) value(line, player int, missed map[int]int64) int64 {
	in := v.players[player].instrument
	fit := v.fits(line, in)
	if fit == 0 {
		return forbidden
	}
	octave := v.judge(line, in).Octave
	amount, ok := missed[octave]
	if !ok {
		amount = v.needs.missed(line, octave)
		missed[octave] = amount
	}
	if _, ok := v.chairs[line]; ok && v.hasOwn(line, in) {
		amount += ownChair
	}
	return int64(float64(amount+leastMissed) * fit)
}

// leastMissed is the weight of a line that adds nothing new, so that it is played by
// whom it suits rather than not at all.
const leastMissed = allTheTime / 100

// octaveOfLast is the octave in which the line is played that was chosen last.
func (v *coverage) octaveOfLast() int {
	for player, row := range v.seats.rowOf {
		if row == len(v.lines)-1 {
			return v.judge(v.lines[row], v.players[player].instrument).Octave
		}
	}
	return 0
}

// pairings are who plays what, in the order of the score.
func (v *coverage) pairings() []pairing {
	playerOf := unassigned(len(v.music))
	for player, row := range v.seats.rowOf {
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
