package instruments

import (
	"slices"
	"strings"

	"deskpart/transpose/pitch"
)

// scene is a part beside the others: what recognition asks when a word has several
// meanings.
type scene struct {
	*Query
	c      *Catalogue
	roster *roster // nil where no other part is known
	at     int     // the part's place in it
	named  Group   // the group of the instrument that the same name puts first
}

// alone is the scene of words that stand outside a score, beside an instrument of a
// group ("" for none).
func (c *Catalogue) alone(beside Group) *scene { return &scene{Query: &Query{}, c: c, named: beside} }

// language is that of the score: as the query says, or as the names of its parts
// tell.
func (s *scene) language() pitch.Language {
	if s.Language != "" || s.roster == nil {
		return s.Language
	}
	return s.roster.language
}

// heard is what the texts of the part say.
func (s *scene) heard() *hearing {
	if s.roster == nil {
		return &hearing{}
	}
	return s.roster.members[s.at].heard
}

// A choice is one of the instruments that a word may mean.
type choice struct {
	target target
	sure   bool     // by more than the catalogue's own preference
	others []target // what else the word means, the likeliest first
}

// sureBy is how much more must speak for an instrument than for the next to be sure:
// more than the catalogue's own preference.
const sureBy = 3

// choose weighs what speaks for each of the instruments that a word may mean.
func (s *scene) choose(m *mention) choice {
	possible := s.possible(m)
	if len(possible) == 0 {
		return choice{}
	}
	if len(possible) == 1 && len(m.targets) == 1 {
		return choice{target: possible[0], sure: true}
	}
	weights := map[string]int{}
	for _, t := range possible {
		weights[t.kind] = s.weigh(t, m)
	}
	slices.SortStableFunc(possible, func(a, b target) int { return weights[b.kind] - weights[a.kind] })
	chosen, others := possible[0], possible[1:]
	if len(others) == 0 || weights[chosen.kind]-weights[others[0].kind] >= sureBy {
		others = s.unmet(m, chosen)
		return choice{chosen, len(others) == 0 || s.hasSound(chosen.kind) || s.sits(chosen.kind), others}
	}
	return choice{chosen, false, others}
}

// oneOf returns the language of a name that belongs to one alone.
func oneOf(languages []pitch.Language) pitch.Language {
	if len(languages) == 1 {
		return languages[0]
	}
	return ""
}

// unmet returns the other instruments that the word would mean under a condition
// which says little: a number makes "Baritone" a brass instrument, but a choir has
// numbered baritones too.
func (s *scene) unmet(m *mention, chosen target) []target {
	doubtful := chosen.when == whenNumber
	return filter(m.targets, func(t target) bool {
		return t.kind != chosen.kind && (t.when == whenNumber || doubtful && t.always()) &&
			(len(m.keys) == 0 || s.c.inAnyReading(t.kind, m.keys[0]))
	})
}

// sits reports whether an instrument stands among others of its group, so that a
// word needs no number to mean it.
func (s *scene) sits(kind string) bool {
	group := s.c.usual(kind).Group
	return slices.ContainsFunc(s.roster.beside(s.at), func(i *Instrument) bool { return i.Group == group })
}

func filter[T any](list []T, keep func(T) bool) []T {
	var kept []T
	for _, t := range list {
		if keep(t) {
			kept = append(kept, t)
		}
	}
	return kept
}

// possible leaves out the instruments whose condition is not met, and, where the name
// says a clef or a key, those that have no choice of clefs and are in no use in the
// key, unless nothing is left then.
func (s *scene) possible(m *mention) []target {
	possible := s.met(m)
	narrow := func(fits func(target) bool) {
		if fitting := filter(possible, fits); len(fitting) > 0 {
			possible = fitting
		}
	}
	if m.clef != "" {
		narrow(func(t target) bool { return s.c.toldByClef(t.kind, m.clef) })
	}
	if len(m.keys) > 0 {
		narrow(func(t target) bool { return s.c.inAnyReading(t.kind, m.keys[0]) })
	}
	return possible
}

// met leaves out the instruments whose condition is not met. What has a key, a clef or
// a word that nothing is known of is no voice, and a size with such a word is nothing
// that is known; but where syllables stand under the notes, somebody sings.
func (s *scene) met(m *mention) []target {
	sung, _ := s.lyrics()
	unknownSize := len(m.unknown) > 0 && s.c.allSizes(m.words)
	var found []target
	for _, t := range m.targets {
		voice := s.usual(t).Group == Voices
		same := slices.IndexFunc(found, func(f target) bool { return f.kind == t.kind })
		switch {
		case !s.meets(t, m):
		case voice && !sung && (len(m.keys) > 0 || m.clef != "" || unknownSize):
		case !voice && unknownSize && t.always():
		case same < 0:
			found = append(found, t)
		case conditionRank(t) > conditionRank(found[same]): // a condition that is met says more
			found[same] = t
		}
	}
	return found
}

// conditionRank orders the conditions of one instrument's names by what they say.
func conditionRank(t target) int {
	switch t.when {
	case "":
		return 0
	case whenFirst:
		return 1
	case whenNumber:
		return 2
	case whenKey, whenClef, whenSound, whenFamily:
		return 3
	}
	return 4
}

func (s *scene) meets(t target, m *mention) bool {
	switch t.when {
	case "", whenFirst:
		return true
	case whenSound:
		return s.hasSound(t.kind)
	case whenFamily:
		return s.hasFamily(t.kind)
	case whenKey:
		return len(m.keys) > 0 && s.c.inAnyReading(t.kind, m.keys[0]) &&
			(t.id == "" || slices.Contains(readings(m.keys[0]), s.c.byID[t.id].Key))
	case whenClef:
		return s.clefMeans(t.kind, m.clef)
	case whenNumber:
		group := s.usual(t).Group
		return len(m.numbers) > 0 || m.count > 0 || group == s.named || s.hasGroup(group)
	}
	name, _ := strings.CutPrefix(t.when, whenIn)
	return s.roster != nil && (!s.roster.settled || s.roster.is(name))
}

// readings returns the keys that a key word may mean.
func readings(k keyWord) []string {
	if k.plainB {
		return []string{"Bb", "B"}
	}
	return []string{k.key}
}

func (s *scene) hasSound(kind string) bool {
	return s.Sound != "" && slices.ContainsFunc(s.c.byKind[kind], func(i *Instrument) bool {
		return slices.Contains(i.Sounds, s.Sound)
	})
}

// hasFamily reports whether an instrument has one of its family beside it, or its
// family in the name of its group. While nothing is settled, it may have.
func (s *scene) hasFamily(kind string) bool {
	family := s.c.usual(kind).Family
	if s.roster == nil {
		return false
	}
	if g := s.heard().group; g != nil && slices.Contains(s.c.families(g.targets), family) {
		return true
	}
	if !s.roster.settled {
		return len(s.roster.members) > 1
	}
	return s.roster.has(s.at, func(i *Instrument) bool { return i.Family == family })
}

func (s *scene) hasGroup(group Group) bool {
	return s.roster.has(s.at, func(i *Instrument) bool { return i.Group == group })
}

// clefMeans reports whether the clef of the name, or else of the notes, tells a kind
// from others of its name.
func (s *scene) clefMeans(kind, said string) bool {
	if clef, known := s.clef(); said == "" && known {
		said = clef.Name()
	}
	return said != "" && s.c.toldByClef(kind, said)
}

// toldByClef reports whether a kind has a notation in use that begins with a clef and
// that needs the clef to be told: it is one of several, or a special one.
func (c *Catalogue) toldByClef(kind, clef string) bool {
	choice := slices.ContainsFunc(c.byKind[kind], func(i *Instrument) bool {
		return !i.Flags.Rare && i.Clefs[0].Sign != c.usual(kind).Clefs[0].Sign
	})
	return slices.ContainsFunc(c.byKind[kind], func(i *Instrument) bool {
		return i.readsFirst(clef) && !i.Flags.Rare && (choice || i.Variant != "")
	})
}

// readsFirst reports whether the clef is the part's usual one. Old notations are
// never meant by naming a clef.
func (i *Instrument) readsFirst(clef string) bool {
	return i.Clefs[0].Name() == clef && !strings.Contains(i.Variant, "old")
}
