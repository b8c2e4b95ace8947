package fit

import "deskpart/instruments"

// ownChair is added to what the ear misses of a line for a player of the instrument
// that it was written for: as much as a note of the harmony all through. Trumpets play
// the trumpets' part, short as it is, unless the melody or the bass has nobody else
// (taste; common practice, no source).
const ownChair = allTheTime

// chairs finds, for each kind of instrument, as many of its lines as there are
// players, in the order of the score: by line the line of the chair before, -1 for the
// first.
func (c *caster) chairs() map[int]int {
	players := map[string]int{} // of each kind
	for p := range c.players {
		players[c.players[p].instrument.Kind]++
	}
	last := map[string]int{}
	chairs := map[int]int{}
	for line, m := range c.music {
		if m.silent() || m.From == nil {
			continue
		}
		kind := m.From.Kind
		if players[kind] == 0 && m.From.Group == instruments.Percussion {
			kind = "percussion" // whose players take whatever there is
		}
		if players[kind] == 0 {
			continue
		}
		players[kind]--
		before, ok := last[kind]
		if !ok {
			before = -1
		}
		chairs[line] = before
		last[kind] = line
	}
	return chairs
}

// hasOwn reports whether a line was written for a player's instrument.
func (c *caster) hasOwn(music int, in *instruments.Instrument) bool {
	m := c.music[music]
	return m.own(playedBy(m, in))
}
