package instruments

import (
	"fmt"
	"slices"
)

// memberInKey chooses the member of a kind in the key that the name states; false
// where there is none.
func (c *Catalogue) memberInKey(t target, m *mention, q Query) (Match, bool) {
	key, assumed, why := c.whichB(t, m, q)
	members := c.inKey(t.kind, key)
	if len(members) == 0 {
		return c.tubeKey(t, key)
	}
	chosen, open := c.inRegister(members, m)
	match := Match{Instrument: chosen, By: ByName, KeyStated: true, Assumed: assumed, Why: "named with its key" + why}
	if assumed {
		match.Alternatives = ordinary(c.inKey(t.kind, otherB(key)))
	}
	if len(open) > 0 {
		match.Assumed = true
		match.Alternatives = append(match.Alternatives, open...)
		match.Why += "; alto or basso is not said"
	}
	return match, true
}

func (c *Catalogue) inKey(kind, key string) []*Instrument {
	var members []*Instrument
	for _, i := range c.byKind[kind] {
		if i.Key == key {
			members = append(members, i)
		}
	}
	return members
}

// whichB settles a plain B: B flat in German usage, which Italian and French names
// in old scores follow (w-hornwiki), B natural in an English name where such an
// instrument is in use. Only a German name leaves no doubt.
func (c *Catalogue) whichB(t target, m *mention, q Query) (key string, assumed bool, why string) {
	k := m.keys[0]
	if !k.plainB {
		return k.key, false, ""
	}
	if i := c.determined(t.kind, q.Sound); i != nil && (i.Key == "B" || i.Key == "Bb") {
		return i.Key, false, "; B is settled by the sound " + q.Sound
	}
	languages := m.speaks(t, c.languageOf(q))
	english := slices.Contains(languages, "en")
	natural := slices.ContainsFunc(c.inKey(t.kind, "B"), func(i *Instrument) bool { return !i.Flags.Rare })
	switch {
	case natural && english && (k.english || len(languages) == 1):
		return "B", true, "; B in English is B natural"
	case len(languages) == 1 && languages[0] == "de":
		return "Bb", false, "; B in German is B flat"
	}
	return "Bb", true, "; a plain B is taken for B flat"
}

// speaks returns the languages that a mention may be in: the one that words around
// the instrument belong to, that of the score, else those of the instrument's name.
func (m *mention) speaks(t target, score string) []string {
	for _, language := range m.languages {
		if slices.Contains(t.languages, language) {
			return []string{language}
		}
	}
	if slices.Contains(t.languages, score) {
		return []string{score}
	}
	return t.languages
}

func otherB(key string) string {
	if key == "B" {
		return "Bb"
	}
	return "B"
}

// inRegister chooses among members in one key: by clef, by alto or basso, else the
// one that the key alone means. The others in use come back where nothing decided.
func (c *Catalogue) inRegister(members []*Instrument, m *mention) (*Instrument, []*Instrument) {
	if i := c.inClef(members, m.clef, m.register); i != nil {
		return i, nil
	}
	plain := slices.DeleteFunc(slices.Clone(members), func(i *Instrument) bool { return i.Variant != "" })
	if len(plain) == 0 {
		plain = members
	}
	if m.register != "" {
		if n := slices.IndexFunc(plain, func(i *Instrument) bool { return i.Register == m.register }); n >= 0 {
			return plain[n], nil
		}
	}
	chosen := plain[0]
	for _, i := range plain {
		if i.Flags.PlainKey && (m.register == "" || i.Register == "") {
			chosen = i
		}
	}
	open := slices.DeleteFunc(plain, func(i *Instrument) bool { return i == chosen || i.Flags.Rare })
	if m.register != "" {
		open = nil
	}
	return chosen, open
}

// inClef returns the member whose notation begins with the clef, the ones in use
// before the rare ones.
func (c *Catalogue) inClef(members []*Instrument, clef, register string) *Instrument {
	var rare *Instrument
	for _, i := range members {
		if clef == "" || !i.readsFirst(clef) || register != "" && i.Register != register {
			continue
		}
		if !i.Flags.Rare {
			return i
		}
		if rare == nil {
			rare = i
		}
	}
	return rare
}

// ordinary leaves out special notations.
func ordinary(members []*Instrument) []*Instrument {
	return slices.DeleteFunc(members, func(i *Instrument) bool { return i.Variant != "" })
}

// tubeKey is for "Tuba in F": the key of the tube, which the part does not
// transpose by.
func (c *Catalogue) tubeKey(t target, key string) (Match, bool) {
	usual := c.usual(t.kind)
	if !slices.Contains(usual.TubeKeys, key) {
		return Match{}, false
	}
	return Match{Instrument: usual, By: ByName,
		Why: fmt.Sprintf("%s names the tube; the part is not transposed", key)}, true
}
