package instruments

import "strings"

// Find returns the instruments that a user's words mean, the likeliest first: an
// id, a name in any language, a family. It is empty where nothing fits.
func (c *Catalogue) Find(text string) []*Instrument {
	id := strings.ToLower(strings.TrimSpace(text))
	if i := c.byID[id]; i != nil {
		return []*Instrument{i}
	}
	if m := c.Match(Query{Name: text}); m.Recognised() {
		return append([]*Instrument{m.Instrument}, m.Alternatives...)
	}
	return c.FamilyMembers(id)
}
