package fit

import (
	"cmp"
	"slices"

	"deskpart/instruments"
)

// InTurn reports whether one player can have lines, by their places among the music: never
// two at once, and with time for every change.
type InTurn func(lines ...int) bool

// takeTurns gives lines that nobody has to players who have one already, what the ear
// would miss first before the rest.
func (c *caster) takeTurns(pairings []pairing, inTurn InTurn) []pairing {
	if inTurn == nil {
		return pairings
	}
	var left []int
	for line := range c.music {
		seated := slices.ContainsFunc(pairings, func(p pairing) bool { return p.music == line })
		if !seated && !c.music[line].silent() {
			left = append(left, line)
		}
	}
	slices.SortStableFunc(left, func(a, b int) int { return cmp.Compare(c.weights[b], c.weights[a]) })
	for _, line := range left {
		if p, ok := c.inTurn(line, pairings, inTurn); ok {
			pairings = append(pairings, p)
		}
	}
	return pairings
}

// inTurn is the player who takes a line in turn with what the player has: who doubles the
// instrument, then who can play it on the own one, then who usually doubles such an
// instrument (the last chair of its family: common practice, no source).
func (c *caster) inTurn(line int, pairings []pairing, inTurn InTurn) (pairing, bool) {
	best, least := pairing{}, 0
	found := false
	for p := range c.players {
		on, rank := c.takenUp(line, p)
		if on == nil || found && rank > least {
			continue
		}
		lines := []int{line}
		for _, has := range pairings {
			if has.player == p {
				lines = append(lines, has.music)
			}
		}
		if len(lines) > 1 && inTurn(lines...) {
			best, least, found = pairing{music: line, player: p, inTurn: true, on: on}, rank, true
		}
	}
	return best, found
}

// takenUp is the instrument on which a player would take a line in turn, nil for none, and
// how near at hand it is: the less, the nearer.
func (c *caster) takenUp(line, p int) (on *instruments.Instrument, rank int) {
	player, from := &c.players[p], c.music[line].From
	for _, in := range player.doubles {
		if c.fits(line, in) > 0 && (on == nil || in == from) {
			on, rank = in, 1
		}
	}
	switch {
	case on != nil:
		if on == from {
			rank = 0
		}
	case c.fits(line, player.instrument) > 0:
		on, rank = player.instrument, 2
	case from != nil && from.IsWind() && from.Family == player.instrument.Family && c.fits(line, from) > 0:
		on, rank = from, 3
	}
	return on, rank
}

// instrumentOf is what a pairing's player plays the line on.
func (c *caster) instrumentOf(p pairing) *instruments.Instrument {
	if p.on != nil {
		return p.on
	}
	return c.players[p.player].instrument
}

// isSeveral reports whether a player has several lines.
func isSeveral(pairings []pairing, player int) bool {
	return slices.ContainsFunc(pairings, func(p pairing) bool { return p.player == player && p.inTurn })
}
