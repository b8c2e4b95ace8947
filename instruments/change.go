package instruments

// MatchChange recognises words that tell the player to change instrument.
func (c *Catalogue) MatchChange(words string, current *Instrument) (Match, bool) {
	return Match{By: ByNone}, false
}
