package fit

import "deskpart/instruments"

// double gives the players who are left something to double, one after another: what
// is thinnest, by whom it suits best. Percussion is not doubled.
func (c *caster) double(pairings []pairing) []pairing {
	free := make([]bool, len(c.players))
	for p := range free {
		free[p] = c.players[p].instrument.Group != instruments.Percussion
	}
	d := doubling{caster: c, needs: c.allNeeds(), free: free, players: make([]int, len(c.music))}
	for _, p := range pairings {
		d.seat(p)
	}
	var all []pairing
	for {
		p, ok := d.thinnest()
		if !ok {
			return all
		}
		d.seat(p)
		all = append(all, p)
	}
}

// doubling is the work on who doubles what.
type doubling struct {
	*caster
	needs   needs
	free    []bool
	players []int // of each line
}

func (d *doubling) seat(p pairing) {
	d.free[p.player] = false
	d.players[p.music]++
	d.needs.play(p.music, d.judge(p.music, d.instrumentOf(p)).Octave)
}

// thinnest is the next player to double a line, of equal ones the first. A line is
// worth the less the more players it has.
func (d *doubling) thinnest() (pairing, bool) {
	best, most := pairing{doubling: true}, 0.0
	for line := range d.music {
		if d.players[line] == 0 {
			continue
		}
		missed := map[int]int64{}
		for player, free := range d.free {
			in := d.caster.players[player].instrument
			fit := 0.0
			if free {
				fit = d.doubles(line, in)
			}
			if fit == 0 {
				continue
			}
			octave := d.judge(line, in).Octave
			if _, ok := missed[octave]; !ok {
				missed[octave] = d.needs.missed(line, octave)
			}
			if gain := float64(missed[octave]) / float64(d.players[line]) * fit; gain > most {
				best.music, best.player, most = line, player, gain
			}
		}
	}
	return best, most > 0
}
