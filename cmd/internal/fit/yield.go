package fit

// fewMissing is the share of its notes that a tune may lack rather than be left out
// altogether, leastTune the weight from which on a line is one: the melody for a tenth of
// the time (taste; common practice, no source).
const fewMissing, leastTune = 0.01, allTheTime / 4

// yieldTunes finds tunes that no player has whole but for a few notes. They are played all
// the same, and it is said how many notes are missing: the player leaves them out or takes
// them in another octave.
func (c *caster) yieldTunes() {
	for line, m := range c.music {
		if _, leading := c.lacking.unheard(line, 0); m.silent() || leading < leastTune || c.bestFor(line) != nil {
			continue
		}
		c.yielding[line] = true
		for p := range c.players {
			delete(c.judged, judgement{line, c.players[p].instrument})
		}
	}
}

// mostMissing is how many notes of a line may be missing.
func (c *caster) mostMissing(music int) int {
	if !c.yielding[music] {
		return 0
	}
	return int(fewMissing * float64(len(c.music[music].Line)))
}
