package fit

import (
	"slices"

	"deskpart/instruments"
)

// forTakingUp is what the fit of an instrument counts that a player takes up beside the
// own one for a line that this suits less (taste; common practice, no source).
const forTakingUp = 0.9

// takeUp lets lines that are not the players' own chairs be played on what is named beside
// a player's instrument, where that suits better: by the player who has the line, by one
// who has none, or by one of the same instrument who changes lines with the first. Those who
// have none are given what nobody could take so far. Neighbours are not set against each
// other for it.
func (c *caster) takeUp(pairings []pairing) []pairing {
	for changed := true; changed; {
		changed = false
		for line := range c.music {
			if better, ok := c.takenUpFor(line, pairings); ok {
				pairings, changed = better, true
			}
		}
	}
	return pairings
}

// takenUpFor is how a line is played on what somebody takes up for it.
func (c *caster) takenUpFor(line int, pairings []pairing) (better []pairing, ok bool) {
	seat := slices.IndexFunc(pairings, func(p pairing) bool { return p.music == line })
	most := 0.0
	if seat >= 0 {
		if c.atHome(pairings[seat]) || pairings[seat].on != nil {
			return nil, false
		}
		most = c.fits(line, c.instrumentOf(pairings[seat])) / forTakingUp
	}
	for p := range c.players {
		for _, in := range c.players[p].doubles {
			fit := c.fits(line, in)
			if fit <= most {
				continue
			}
			if tried, can := c.seatedOn(line, seat, p, in, pairings); can {
				better, most = tried, fit
			}
		}
	}
	return better, better != nil
}

// seatedOn gives a line to a player on an instrument, if the player is free for it: seat is
// the pairing that has the line so far, -1 for none.
func (c *caster) seatedOn(line, seat, player int, on *instruments.Instrument, pairings []pairing) ([]pairing, bool) {
	tried := slices.Clone(pairings)
	had := slices.IndexFunc(tried, func(p pairing) bool { return p.player == player })
	switch {
	case seat < 0 && had < 0:
		tried = append(tried, pairing{})
		seat = len(tried) - 1
	case seat < 0:
		return nil, false
	case had >= 0 && had != seat:
		first := tried[seat].player
		if c.atHome(tried[had]) || tried[had].on != nil || c.players[first].instrument != c.players[player].instrument {
			return nil, false
		}
		tried[had].player = first
	}
	tried[seat] = pairing{music: line, player: player, on: on}
	_, _, crosses := c.crossing(tried)
	return tried, !crosses
}
