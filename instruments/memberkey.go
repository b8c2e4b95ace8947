package instruments

import (
	"fmt"
	"slices"

	"deskpart/transpose/pitch"
)

// memberInKey chooses the member of a kind in the key that the name states; false
// where there is none.
func (s *scene) memberInKey(t target, m *mention) (Match, bool) {
	key, assumed, why := s.whichB(t, m)
	members := s.c.inKey(t.kind, key)
	if slices.Contains(s.usual(t).TubeKeys, key) {
		return s.tubeKey(t, m, key), true
	}
	if len(members) == 0 {
		return Match{}, false
	}
	chosen, open := s.c.inRegister(members, m)
	match := Match{Instrument: chosen, By: ByName, KeyStated: true, Assumed: assumed, Why: "named with its key" + why}
	if assumed {
		match.Alternatives = ordinary(s.c.inKey(t.kind, otherB(key)))
	}
	if len(open) > 0 {
		match.Assumed = true
		match.Alternatives = append(match.Alternatives, open...)
		match.Why += "; alto or basso is not said"
	}
	s.askRegister(&match, m)
	return match, true
}

// askRegister asks where alto or basso is said of an instrument that has one size in
// its key, and that goes the other way: a trumpet in F sounds higher than written,
// "F (basso)" might be a fifth lower.
func (s *scene) askRegister(match *Match, m *mention) {
	i := match.Instrument
	by := i.Interval().Chromatic
	if i.Register != "" || by == 0 || m.register != "alto" && m.register != "basso" || (by > 0) == (m.register == "alto") {
		return
	}
	match.Assumed = true
	match.Question = fmt.Sprintf("the name says %s, but a %s sounds %s", m.register, i.Label("en", ""), i.Describe("en")[len("sounds "):])
}

// tubeKey is for a key that names the tube: "Tuba in F", "Posaune in B". In the bass
// clef, and outside brass bands, it is not transposed by (intmus-12a); in the treble
// clef, and in a brass band, it is (jayess, schoolbrass).
func (s *scene) tubeKey(t target, m *mention, key string) Match {
	usual := s.usual(t)
	match := Match{Instrument: usual, By: ByName,
		Why: fmt.Sprintf("%s names the tube; the part is not transposed", key)}
	transposing := s.transposingNotation(t.kind, key)
	if transposing == nil {
		return match
	}
	clef, known := s.clef()
	if m.clef != "" {
		clef, known = clefNames[m.clef], true
	}
	banded := s.roster != nil && s.roster.ensemble().read(t.kind) == transposing
	switch {
	case known && !usual.reads(clef) || banded && (!known || transposing.reads(clef)):
		match.Instrument, match.KeyStated, match.Why = transposing, true, "named with its key"
	case banded:
		match.Instrument, match.KeyStated, match.Assumed, match.Alternatives = transposing, true, true, []*Instrument{usual}
		match.Why = "named with its key in a " + s.roster.ensemble().title() + ", though the " + clef.Name() + " clef says another notation"
	case !known:
		match.Assumed, match.Alternatives = true, []*Instrument{transposing}
	}
	return match
}

// transposingNotation is the notation in use in which a kind that usually is not
// transposed is; nil where there is none in the key.
func (s *scene) transposingNotation(kind, key string) *Instrument {
	for _, i := range s.c.inKey(kind, key) {
		if i.Transposes() && !i.Flags.Rare {
			return i
		}
	}
	return nil
}

func (c *Catalogue) inKey(kind, key string) []*Instrument {
	return filter(c.byKind[kind], func(i *Instrument) bool { return i.Key == key })
}

// whichB settles a plain B: B flat in German usage, which Italian and French names
// in old scores follow (w-hornwiki), B natural in an English name where such an
// instrument is in use. Only a name in languages that call B natural H leaves no doubt.
func (s *scene) whichB(t target, m *mention) (key string, assumed bool, why string) {
	k := m.keys[0]
	if !k.plainB {
		return k.key, false, ""
	}
	if i := s.c.determined(t.kind, s.Sound); i != nil && (i.Key == "B" || i.Key == "Bb") {
		return i.Key, false, "; B is settled by the sound " + s.Sound
	}
	languages := m.speaks(t, s.language())
	english := slices.Contains(languages, pitch.English)
	natural := slices.ContainsFunc(s.c.inKey(t.kind, "B"), func(i *Instrument) bool { return !i.Flags.Rare })
	switch {
	case natural && english && (k.english || len(languages) == 1):
		return "B", true, "; B in English is B natural"
	case s.c.vocabulary.haveH(languages):
		return "Bb", false, "; as in German, B is B flat"
	}
	return "Bb", true, "; a plain B is taken for B flat"
}

// speaks returns the languages that a mention may be in: the one that words around
// the instrument belong to, that of the score, else those of the instrument's name.
func (m *mention) speaks(t target, score pitch.Language) []pitch.Language {
	for _, language := range m.languages {
		if slices.Contains(t.languages, language) {
			return []pitch.Language{language}
		}
	}
	if slices.Contains(t.languages, score) {
		return []pitch.Language{score}
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
	plain := ordinary(members)
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
	return filter(members, func(i *Instrument) bool { return i.Variant == "" })
}
