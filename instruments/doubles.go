package instruments

import "slices"

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
func (s *scene) addDoubles(m *Match, main *mention, more []*mention) {
	if m.Instrument == nil {
		return
	}
	for n := 1; n < len(main.keys); n++ {
		other := &mention{targets: main.targets, words: main.words, keys: main.keys[n : n+1], register: main.register}
		if r := s.c.alone("").resolve(other); r.KeyStated && r.Instrument.Kind == m.Instrument.Kind {
			m.double(r.Instrument, "")
		}
	}
	for _, other := range more {
		r := s.c.alone(m.Instrument.Group).resolve(other)
		if r.Instrument == nil {
			continue
		}
		if other.joined {
			m.Alternatives = append(m.Alternatives, r.Instrument)
			continue
		}
		m.double(r.Instrument, numberList(other.players()))
	}
}

// double adds an instrument that the player has besides, with the player's number on
// it.
func (m *Match) double(i *Instrument, number string) {
	if i != m.Instrument && !slices.Contains(m.Doubles, i) {
		m.Doubles, m.doubleNumbers = append(m.Doubles, i), append(m.doubleNumbers, number)
	}
}
