package instruments

import (
	"cmp"
	"fmt"
	"slices"
)

// hearing is what the texts of a part say, before the rest of the score is asked.
type hearing struct {
	named   []*mention // instruments of the first text that names one, the part's own first; never changed once heard
	source  string     // which text that was, in words; "" for the part's name
	rest    *mention   // what stands in the part's name where it names no instrument: "1", "in F"
	group   *mention   // the instrument that the group is named for, nil where it is for none
	section Group      // the group of instruments that the group's name means: "brass"
}

// hear reads the texts of a part. The name goes first, then the name as displayed,
// the group's, the abbreviation and the names of its instruments.
func (c *Catalogue) hear(q *Query) *hearing {
	h := &hearing{rest: &mention{}}
	c.hearGroups(h, q.Groups)
	for n, text := range q.texts() {
		if n == afterGroup && c.takeGroup(h, q) {
			return h
		}
		named, rest := c.heardIn(h, text)
		if n == 0 {
			h.rest = rest
			if c.numbersFile(tokenize(text)) {
				h.rest.numbers = nil
			}
		}
		if named = c.complete(h, named, text); len(named) > 0 {
			c.take(h, q, named, n)
			return h
		}
	}
	return h
}

// afterGroup is the place among a part's texts from which the group's name goes
// before them.
const afterGroup = 2

// texts are what may name the part's instrument, in the order in which they are
// believed.
func (q *Query) texts() []string {
	return append([]string{q.Name, q.Display, q.Abbreviation}, q.InstrumentNames...)
}

// hearGroups reads the names of the groups: the nearest that names one instrument,
// and the nearest that names a section.
func (c *Catalogue) hearGroups(h *hearing, groups []string) {
	for _, name := range groups {
		tokens := tokenize(name)
		if section, length := c.vocabulary.find(roleSection, tokens); length > 0 && length == len(tokens) {
			h.section = cmp.Or(h.section, Group(section.meaning))
		}
		if named, _ := c.mentions(tokens); len(named) == 1 && h.group == nil {
			h.group = named[0]
		}
	}
}

// numbersFile reports whether the number in a name that says no instrument counts the
// parts of the file and not the players: "P3", "Staff 4".
func (c *Catalogue) numbersFile(tokens []token) bool {
	return len(tokens) == 2 && tokens[1].isNumber() && !c.vocabulary.is(roleFiller, tokens[0]) &&
		(tokens[1].before == 0 || len(tokens[0].text) > 2)
}

// heardIn reads a text of a part. A lone letter is a key where the part's group
// names an instrument in that key.
func (c *Catalogue) heardIn(h *hearing, text string) (named []*mention, rest *mention) {
	tokens := tokenize(text)
	if h.group != nil {
		named, rest = c.mentionsIn(c.segments(tokens), false)
		if len(named) == 0 && len(rest.keys) > 0 && len(rest.unknown) == 0 && c.anyStandsIn(h.group.targets, rest.keys[0]) {
			return nil, rest
		}
	}
	return c.mentions(tokens)
}

func (c *Catalogue) anyStandsIn(targets []target, key keyWord) bool {
	return slices.ContainsFunc(targets, func(t target) bool { return c.inAnyReading(t.kind, key) })
}

// inAnyReading reports whether a kind is in use in what a key word may mean, or has a
// tube in that key.
func (c *Catalogue) inAnyReading(kind string, key keyWord) bool {
	return slices.ContainsFunc(readings(key), func(key string) bool {
		return c.standsIn(kind, key) || slices.Contains(c.usual(kind).TubeKeys, key) ||
			slices.ContainsFunc(c.byKind[kind], func(i *Instrument) bool { return i.Key == key && i.Transposes() && !i.Flags.Rare })
	})
}

// takeGroup gives a part whose own name says no instrument that of its group: "1"
// among the "Corni in F".
func (c *Catalogue) takeGroup(h *hearing, q *Query) bool {
	if h.group == nil {
		return false
	}
	m := *h.group
	m.numbers, m.count = h.rest.numbers, h.rest.count
	if len(h.rest.keys) > 0 {
		m.keys, m.register = h.rest.keys, cmp.Or(h.rest.register, m.register)
	}
	m.clef = cmp.Or(h.rest.clef, m.clef)
	m.qualifiers = h.rest.qualifiers
	h.named, h.source = []*mention{&m}, fmt.Sprintf("by its group %q", q.Groups[0])
	c.findKey(h, q.texts()[1:])
	return true
}

// take keeps the instruments of a text.
func (c *Catalogue) take(h *hearing, q *Query, named []*mention, at int) {
	h.named = c.merge(named)
	texts := slices.Delete(q.texts(), at, at+1)
	c.findKey(h, append(texts, q.Groups...))
	if at > 0 {
		h.source = fmt.Sprintf("by the name %q", q.texts()[at])
		if h.named[0].numbers == nil {
			h.named[0].numbers = h.rest.numbers
		}
	}
}

// findKey looks in the other texts for the key that the one which names the
// instrument leaves out.
func (c *Catalogue) findKey(h *hearing, texts []string) {
	if main := h.named[0]; len(main.keys) == 0 {
		main.keys = c.keyElsewhere(main, texts)
	}
}

// complete joins a name that is only a size to the instrument of the group: "Tenor"
// among the "Saxophones", "Bass" among the "Clarinets". Where the two make no
// instrument of the catalogue, the group's is taken and the size not understood.
func (c *Catalogue) complete(h *hearing, named []*mention, text string) []*mention {
	sizes := c.sizesIn(text)
	if h.group == nil || h.section != "" || len(sizes) == 0 || c.groupOf(h.group) == Voices {
		return named
	}
	main := *h.group
	if len(named) > 0 {
		main = *named[0]
	}
	joined := c.ofSize(sizes, h.group.targets)
	families := c.families(h.group.targets)
	own := filter(main.targets, func(t target) bool { return slices.Contains(families, c.usual(t.kind).Family) })
	switch {
	case len(joined) > 0:
		main.targets = joined
	case len(own) > 0:
		main.targets = own
	default:
		main.targets = h.group.targets
		main.unknown = append(slices.Clip(main.unknown), sizes[0].raw)
	}
	return []*mention{&main}
}

// sizesIn returns the words of a name that holds nothing but sizes, numbers and keys;
// none where it holds more.
func (c *Catalogue) sizesIn(text string) []token {
	var sizes []token
	tokens := tokenize(text)
	for n := range tokens {
		_, key := c.vocabulary.readKey(tokens[n:])
		switch t := tokens[n]; {
		case c.vocabulary.is(roleSize, t):
			sizes = append(sizes, t)
		case !t.isNumber() && key == 0 && !c.vocabulary.is(roleIn, t):
			return nil
		}
	}
	return sizes
}

func (c *Catalogue) allSizes(words []token) bool {
	return len(words) > 0 && !slices.ContainsFunc(words, func(t token) bool { return !c.vocabulary.is(roleSize, t) })
}

func (c *Catalogue) families(targets []target) []string {
	var families []string
	for _, t := range targets {
		families = union(families, []string{c.usual(t.kind).Family})
	}
	return families
}

// ofSize finds the member of a family that a size means, by the English names of both.
func (c *Catalogue) ofSize(words []token, targets []target) []target {
	size, _ := c.vocabulary.find(roleSize, words)
	var found []target
	for _, t := range targets {
		family := tokenize(c.usual(t.kind).Names("en").Singular)
		name := append(tokenize(size.meaning), family[len(family)-1])
		for _, meant := range c.lexicon.inAnyOrder(setForm(name)) {
			if meant.always() && c.usual(meant.kind).Family == c.usual(t.kind).Family {
				found = append(found, meant)
			}
		}
	}
	return found
}
