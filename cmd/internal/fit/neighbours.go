package fit

// crossing finds two chairs of one instrument in the score, one above the other, that
// are played the other way round because one of them is moved by octaves.
func (c *caster) crossing(pairings []pairing) (upper, lower pairing, ok bool) {
	at := map[int]pairing{}
	for _, p := range pairings {
		at[p.music] = p
	}
	for line := 1; line < len(c.music); line++ {
		upper, here := at[line-1]
		lower, too := at[line]
		if here && too && c.neighbours(line-1, line) && c.cross(upper, lower) && !(c.atHome(upper) && c.atHome(lower)) {
			return upper, lower, true
		}
	}
	return pairing{}, pairing{}, false
}

// neighbours reports whether two lines are chairs of one instrument.
func (c *caster) neighbours(a, b int) bool {
	x, y := c.music[a].From, c.music[b].From
	return x != nil && y != nil && x.Kind == y.Kind
}

// atHome reports whether a player has a chair of the own instrument.
func (c *caster) atHome(p pairing) bool {
	return c.hasOwn(p.music, c.instrumentOf(p))
}

// leastCrossing is how many semitones the lower of two lines must lie above the upper,
// on average, for them to cross.
const leastCrossing = 1.0

// cross reports whether two lines that lie one above the other in the score are played
// the other way round.
func (c *caster) cross(upper, lower pairing) bool {
	above := c.music[upper.music].Line.mean() - c.music[lower.music].Line.mean()
	now := c.played(upper) - c.played(lower)
	return above >= 0 && now <= -leastCrossing
}

// played is how high a line lies as it is played, on average, as a MIDI number.
func (c *caster) played(p pairing) float64 {
	l := c.judge(p.music, c.instrumentOf(p)).lie
	return float64(l.SumOfSounds) / float64(max(1, l.Notes))
}

// mean is how high a line lies in the score.
func (l Line) mean() float64 {
	sum := 0
	for i := range l {
		sum += l[i].midi()
	}
	return float64(sum) / float64(max(1, len(l)))
}

// part sees to it that two lines do not cross again: the one goes with the other into
// its octave where the instrument has the notes, or else the one that the ear misses
// less goes to somebody else.
func (c *caster) part(upper, lower pairing) {
	if c.goWith(lower, upper) || c.goWith(upper, lower) {
		return
	}
	less := lower
	if c.atHome(lower) || c.weights[upper.music] < c.weights[lower.music] && !c.atHome(upper) {
		less = upper
	}
	c.refused[judgement{less.music, c.instrumentOf(less)}] = true
}

// goWith lets a line follow its neighbour, if that ends the crossing.
func (c *caster) goWith(line, neighbour pairing) bool {
	in := c.instrumentOf(line)
	key := judgement{line.music, in}
	if _, tried := c.follows[key]; tried || c.atHome(line) {
		return false
	}
	before := c.judged[key]
	delete(c.judged, key)
	c.follows[key] = c.judge(neighbour.music, c.instrumentOf(neighbour)).Octave
	upper, lower := line, neighbour
	if neighbour.music < line.music {
		upper, lower = neighbour, line
	}
	if c.judge(line.music, in).fit > 0 && !c.cross(upper, lower) {
		return true
	}
	delete(c.follows, key)
	c.judged[key] = before
	return false
}
