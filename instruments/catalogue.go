package instruments

import (
	"io/fs"
	"slices"
)

// Group is a section of an ensemble.
type Group string

// The groups.
const (
	Woodwind   Group = "woodwind"
	Brass      Group = "brass"
	Percussion Group = "percussion"
	Keyboards  Group = "keyboard"
	Plucked    Group = "plucked"
	Voices     Group = "voice"
	Strings    Group = "string"
)

// Groups lists them as a catalogue does.
func Groups() []Group {
	return []Group{Woodwind, Brass, Percussion, Keyboards, Plucked, Voices, Strings}
}

// A Catalogue holds all instruments. It does not change after Load, so several
// goroutines may use one.
type Catalogue struct {
	files  fs.FS // the tables, of which some are read when they are asked for
	all    []*Instrument
	byID   map[string]*Instrument
	byKind map[string][]*Instrument

	lexicon    *lexicon
	vocabulary *vocabulary
	ensembles  []*ensemble
	programs   map[int]string // kinds of instruments by General MIDI program, 1 to 128
}

// All returns every instrument in the catalogue's order: by group and family as in
// a score, high before low.
func (c *Catalogue) All() []*Instrument {
	return slices.Clone(c.all)
}

// ByID returns the instrument of that id, nil where there is none.
func (c *Catalogue) ByID(id string) *Instrument {
	return c.byID[id]
}

// FamilyMembers returns the instruments of a family: all clarinets.
func (c *Catalogue) FamilyMembers(family string) []*Instrument {
	return filter(c.all, func(i *Instrument) bool { return i.Family == family })
}

// KindMembers returns the instruments of one kind: the clarinets that are called
// just that, in all keys.
func (c *Catalogue) KindMembers(kind string) []*Instrument {
	return slices.Clone(c.byKind[kind])
}

// Has reports whether the word names an instrument, kind, family or group.
func (c *Catalogue) Has(word string) bool {
	return slices.ContainsFunc(c.all, func(i *Instrument) bool { return i.Is(word) })
}

// usual returns the member of a kind that a name without key means.
func (c *Catalogue) usual(kind string) *Instrument {
	members := c.byKind[kind]
	for _, i := range members {
		if i.Flags.Usual {
			return i
		}
	}
	return nil
}
