package instruments

import (
	"fmt"
	"strings"
)

// Find returns the instruments that a user's words mean, the likeliest first: an
// id, a name in any language with or without key ("clarinet in A", "bb trumpet"),
// a family. After the one meant come those of the same key in other notations, or,
// where no key was said, the others of the kind. It is empty where nothing fits.
func (c *Catalogue) Find(text string) []*Instrument {
	id := strings.ToLower(strings.TrimSpace(text))
	if i := c.byID[id]; i != nil {
		return []*Instrument{i}
	}
	m := c.Match(Query{Name: text})
	if !m.Recognised() {
		return c.FamilyMembers(id)
	}
	found := append([]*Instrument{m.Instrument}, m.Alternatives...)
	for _, i := range c.byKind[m.Instrument.Kind] {
		if m.By == ByFamily || m.KeyStated && i.Key == m.Instrument.Key {
			found = append(found, i)
		}
	}
	return union(nil, found)
}

// NotFound is the error for words by which no instrument is known; it says what may be
// meant.
func (c *Catalogue) NotFound(words string) error {
	hint := "deskpart instruments lists them all"
	if similar := c.Similar(words, 3); len(similar) > 0 {
		hint = "did you mean " + strings.Join(similar, ", ") + "?"
	}
	return fmt.Errorf("no instrument is known by %q; %s", words, hint)
}
