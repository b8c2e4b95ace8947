package instruments

import (
	"fmt"
	"slices"
	"strings"
)

// Match recognises the instrument of a part, by the first of these that answers:
// the key in the part's name (or in its abbreviation or the names of its
// instruments); the standard sound id, where it determines the key; the usual key
// of the instrument, which is then assumed. A part whose names say nothing is
// recognised by its sound id alone.
func (c *Catalogue) Match(q Query) Match {
	for n, text := range append([]string{q.Name, q.Abbreviation}, q.InstrumentNames...) {
		named, _ := c.mentions(tokenize(text))
		if len(named) == 0 {
			continue
		}
		m := c.settle(named, c.withKeys(q, n), q)
		if n > 0 {
			m.Why = fmt.Sprintf("by the name %q; %s", text, m.Why)
			m.Number, m.Players = c.numbersOf(q.Name, m)
		}
		return m
	}
	return c.matchSound(q)
}

// numbersOf reads the players' numbers of a part whose name says no instrument.
func (c *Catalogue) numbersOf(name string, m Match) (string, []int) {
	if m.Number != "" {
		return m.Number, m.Players
	}
	_, rest := c.mentions(tokenize(name))
	return numberList(rest.numbers), rest.numbers
}

// withKeys returns the texts that may supply a key which the text at n lacks.
func (c *Catalogue) withKeys(q Query, n int) []string {
	texts := append([]string{q.Name, q.Abbreviation}, q.InstrumentNames...)
	return slices.Delete(texts, n, n+1)
}

// settle turns the mentions of a name into a match: the first instrument is the
// part's, further ones are doubled by the player.
func (c *Catalogue) settle(named []*mention, others []string, q Query) Match {
	named = c.merge(named)
	main := named[0]
	if len(main.keys) == 0 {
		main.keys = c.keyElsewhere(main, others)
	}
	if len(named) > 1 {
		q.company = c.groupOf(named[1])
	}
	m := c.resolve(main, q)
	m.Number, m.Players = main.players()
	m.Qualifier = strings.Join(main.qualifiers, " ")
	c.addDoubles(&m, main, named[1:])
	if len(main.unknown) > 0 && m.Instrument != nil {
		m.Assumed = true
		m.Why += fmt.Sprintf("; not understood: %s", strings.Join(main.unknown, " "))
	}
	return m
}

// players returns the numbers of the players, counted where the name says how many.
func (m *mention) players() (string, []int) {
	if len(m.numbers) == 0 && m.count > 0 {
		for n := 1; n <= min(m.count, maxPlayers); n++ {
			m.numbers = append(m.numbers, n)
		}
	}
	return numberList(m.numbers), m.numbers
}

// merge joins mentions of one instrument under several names: "Viola / Bratsche",
// "Flute 1, Flute 2".
func (c *Catalogue) merge(named []*mention) []*mention {
	merged := named[:1]
	for _, m := range named[1:] {
		last := merged[len(merged)-1]
		common := commonTargets(last.targets, m.targets)
		if len(common) == 0 || len(last.keys) > 0 && len(m.keys) > 0 && last.keys[0].key != m.keys[0].key {
			merged = append(merged, m)
			continue
		}
		last.targets = common
		if len(last.keys) > 0 {
			m.keys = nil
		}
		last.absorb(m)
	}
	return merged
}

func commonTargets(a, b []target) []target {
	var common []target
	for _, t := range a {
		if t.always() && slices.ContainsFunc(b, func(o target) bool { return o.always() && o.kind == t.kind }) {
			common = append(common, t)
		}
	}
	return common
}

// keyElsewhere looks for the key of an instrument in the part's other names.
func (c *Catalogue) keyElsewhere(m *mention, texts []string) []keyWord {
	for _, text := range texts {
		named, _ := c.mentions(tokenize(text))
		if len(named) > 0 && len(named[0].keys) > 0 && len(commonTargets(m.targets, named[0].targets)) > 0 {
			return named[0].keys[:1]
		}
	}
	return nil
}

// addDoubles adds the further keys and instruments of the player.
func (c *Catalogue) addDoubles(m *Match, main *mention, more []*mention) {
	if m.Instrument == nil {
		return
	}
	for n := 1; n < len(main.keys); n++ {
		other := &mention{targets: main.targets, keys: main.keys[n : n+1]}
		if r := c.resolve(other, Query{}); r.KeyStated && r.Instrument.Kind == m.Instrument.Kind {
			m.double(r.Instrument)
		}
	}
	for _, other := range more {
		r := c.resolve(other, Query{company: m.Instrument.Group})
		if r.Instrument == nil {
			continue
		}
		if other.joined {
			m.Alternatives = append(m.Alternatives, r.Instrument)
			continue
		}
		m.double(r.Instrument)
	}
}

func (m *Match) double(i *Instrument) {
	if i != m.Instrument && !slices.Contains(m.Doubles, i) {
		m.Doubles = append(m.Doubles, i)
	}
}

// matchSound recognises a part whose names say no instrument.
func (c *Catalogue) matchSound(q Query) Match {
	_, rest := c.mentions(tokenize(q.Name))
	sounding := c.sounding(q.Sound)
	if len(sounding) == 0 {
		return Match{By: ByNone, Why: "no name of an instrument in the catalogue"}
	}
	named := &mention{targets: []target{{kind: sounding[0].Kind}}, keys: rest.keys, register: rest.register}
	m := c.resolve(named, Query{Sound: q.Sound})
	m.Number, m.Players = numberList(rest.numbers), rest.numbers
	if m.By == ByName {
		m.By = BySound
	}
	m.Why = "the name says no instrument; sound " + q.Sound + "; " + m.Why
	return m
}

// sounding returns the instruments of a standard sound id: those whose own it is
// first, the usual ones before the others.
func (c *Catalogue) sounding(sound string) []*Instrument {
	if sound == "" {
		return nil
	}
	found := c.where(func(i *Instrument) bool { return slices.Contains(i.Sounds, sound) })
	slices.SortStableFunc(found, func(a, b *Instrument) int { return b.soundRank(sound) - a.soundRank(sound) })
	return found
}

func (i *Instrument) soundRank(sound string) int {
	rank := 0
	if i.Flags.Usual {
		rank++
	}
	if i.Sound() == sound {
		rank += 2
	}
	return rank
}
