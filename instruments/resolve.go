package instruments

import (
	"fmt"
	"slices"
	"strings"
)

// resolve chooses the instrument that a mention means.
func (c *Catalogue) resolve(m *mention, q Query) Match {
	chosen, sure, others := c.chooseTarget(m, q)
	if chosen.kind == "" {
		return Match{By: ByNone, Why: "the name means no instrument in this key, clef or number"}
	}
	match := c.chooseMember(chosen, m, q)
	if languages := m.speaks(chosen, q.Language); len(languages) == 1 {
		match.Language = languages[0]
	}
	if !sure {
		match.Assumed = true
		match.Why += "; the word also means " + c.kindNames(others)
		for _, t := range others {
			match.Alternatives = append(match.Alternatives, c.usual(t.kind))
		}
	}
	return match
}

func (c *Catalogue) kindNames(targets []target) string {
	var names []string
	for _, t := range targets {
		names = append(names, c.usual(t.kind).Names("en").Singular)
	}
	return strings.Join(names, ", ")
}

// chooseTarget chooses among the instruments that one word may mean: by the sound
// id, the key, the clef, the instruments beside it, the spelling, the language, and
// last by the catalogue's own preference. The second result says whether that was
// more than preference.
func (c *Catalogue) chooseTarget(m *mention, q Query) (chosen target, sure bool, others []target) {
	possible := c.possible(m, q)
	if len(possible) == 0 {
		return target{}, false, nil
	}
	if len(possible) == 1 && len(m.targets) == 1 {
		return possible[0], true, nil
	}
	for _, fits := range c.tests(m, q) {
		if fitting := filter(possible, fits); len(fitting) > 0 {
			possible = fitting
		}
	}
	if len(possible) == 1 {
		others = unmet(m.targets, possible[0], whenNumber)
		return possible[0], len(others) == 0 || c.hasSound(possible[0].kind, q.Sound), others
	}
	preferred := max(0, slices.IndexFunc(possible, func(t target) bool { return t.when == whenNumber }),
		slices.IndexFunc(possible, func(t target) bool { return t.when == whenFirst }))
	others = slices.Delete(slices.Clone(possible), preferred, preferred+1)
	return possible[preferred], false, others
}

// tests are asked in turn; each leaves the instruments that pass it, if any do.
func (c *Catalogue) tests(m *mention, q Query) []func(target) bool {
	return []func(target) bool{
		func(t target) bool { return c.hasSound(t.kind, q.Sound) },
		func(t target) bool { return t.when == whenClef || t.when == whenKey || t.when == whenFamily },
		func(t target) bool { return len(m.keys) > 0 && c.standsIn(t.kind, m.keys[0].key) },
		func(t target) bool { return q.company != "" && c.usual(t.kind).Group == q.company },
		func(t target) bool { return c.fitsScore(t, q) },
		func(t target) bool { return slices.Contains(t.spellings, written(m.words)) },
		func(t target) bool { return slices.Contains(m.languages, oneOf(t.languages)) },
		func(t target) bool { return slices.Contains(t.languages, c.languageOf(q)) },
	}
}

// oneOf returns the language of a name that belongs to one alone.
func oneOf(languages []string) string {
	if len(languages) == 1 {
		return languages[0]
	}
	return ""
}

// unmet returns the other instruments that the word would mean under a condition
// which says little: a number makes "Baritone" a brass instrument, but a choir has
// numbered baritones too.
func unmet(all []target, chosen target, when string) []target {
	doubtful := chosen.when == when
	return filter(all, func(t target) bool {
		return t.kind != chosen.kind && (t.when == when || doubtful && t.always())
	})
}

func filter(targets []target, keep func(target) bool) []target {
	var kept []target
	for _, t := range targets {
		if keep(t) {
			kept = append(kept, t)
		}
	}
	return kept
}

// possible leaves out the instruments whose condition is not met.
func (c *Catalogue) possible(m *mention, q Query) []target {
	var kinds []string
	return filter(m.targets, func(t target) bool {
		if slices.Contains(kinds, t.kind) || !c.meets(t, m, q) {
			return false
		}
		kinds = append(kinds, t.kind)
		return true
	})
}

func (c *Catalogue) meets(t target, m *mention, q Query) bool {
	switch t.when {
	case whenSound:
		return c.hasSound(t.kind, q.Sound)
	case whenFamily:
		return c.hasFamily(t, q)
	case whenKey:
		return len(m.keys) > 0 && slices.ContainsFunc(readings(m.keys[0]), func(key string) bool {
			return c.standsIn(t.kind, key)
		})
	case whenClef:
		return m.clef != "" && slices.ContainsFunc(c.byKind[t.kind], func(i *Instrument) bool {
			return i.readsFirst(m.clef) && i.Variant != ""
		})
	case whenNumber:
		return len(m.numbers) > 0 || m.count > 0 || c.usual(t.kind).Group == q.company || c.fitsScore(t, q)
	}
	return true
}

// readings returns the keys that a key word may mean.
func readings(k keyWord) []string {
	if k.plainB {
		return []string{"Bb", "B"}
	}
	return []string{k.key}
}

func (c *Catalogue) hasSound(kind, sound string) bool {
	return sound != "" && slices.ContainsFunc(c.byKind[kind], func(i *Instrument) bool {
		return slices.Contains(i.Sounds, sound)
	})
}

// readsFirst reports whether the clef is the part's usual one. Old notations are
// never meant by naming a clef.
func (i *Instrument) readsFirst(clef string) bool {
	return i.Clefs[0].Name() == clef && !strings.Contains(i.Variant, "old")
}

// chooseMember chooses the key and notation of a kind.
func (c *Catalogue) chooseMember(t target, m *mention, q Query) Match {
	if len(m.keys) > 0 && c.keyMatters(t.kind) {
		if match, ok := c.memberInKey(t, m, q); ok {
			return match
		}
	}
	if m.clef != "" {
		if i := c.inClef(c.byKind[t.kind], m.clef, ""); i != nil && (i.Variant != "" || i.Flags.Usual) {
			return Match{Instrument: i, By: ByName, Why: "named, with its clef"}
		}
	}
	if t.id != "" {
		return Match{Instrument: c.byID[t.id], By: ByName, Why: "the name means this key"}
	}
	return c.memberWithoutKey(t, m, q)
}

// keyMatters reports whether a key beside the kind's name tells something: not
// with timpani, whose keys are their tuning.
func (c *Catalogue) keyMatters(kind string) bool {
	return c.usual(kind).Key != ""
}

// memberWithoutKey is for a name without key: the only one there is, the one that
// the sound id determines, or the usual one, which is assumed.
func (c *Catalogue) memberWithoutKey(t target, m *mention, q Query) Match {
	usual := c.usual(t.kind)
	unusual := c.ordinaryBeside(usual)
	if len(m.keys) > 0 && c.keyMatters(t.kind) {
		return Match{Instrument: usual, By: ByFamily, Assumed: true, Alternatives: unusual,
			Why: fmt.Sprintf("no %s in %s in the catalogue; the usual one is assumed", usual.Names("en").Singular, m.keys[0].key)}
	}
	if len(unusual) == 0 {
		return Match{Instrument: usual, By: ByName, Why: "named"}
	}
	if i := c.determined(t.kind, q.Sound); i != nil {
		return Match{Instrument: i, By: BySound, Why: "named without key; its sound is " + q.Sound}
	}
	return Match{Instrument: usual, By: ByFamily, Assumed: true, Alternatives: unusual,
		Why: "named without key; the usual key is assumed"}
}

// ordinaryBeside returns the members of the kind in other keys that are in use.
func (c *Catalogue) ordinaryBeside(usual *Instrument) []*Instrument {
	return c.where(func(i *Instrument) bool {
		return i.Kind == usual.Kind && i != usual && !i.Flags.Rare && i.Variant == "" &&
			(i.Diatonic != usual.Diatonic || i.Chromatic != usual.Chromatic || i.OctaveChange != usual.OctaveChange)
	})
}

// determined returns the member of a kind that a sound id belongs to alone.
func (c *Catalogue) determined(kind, sound string) *Instrument {
	var found []*Instrument
	for _, i := range c.byKind[kind] {
		if i.Sound() == sound && !i.Flags.Rare && i.Variant == "" {
			found = append(found, i)
		}
	}
	if sound == "" || len(found) != 1 || c.general(kind, sound) {
		return nil
	}
	return found[0]
}

// general reports whether members in other keys have the sound too, as a second.
func (c *Catalogue) general(kind, sound string) bool {
	return slices.ContainsFunc(c.byKind[kind], func(i *Instrument) bool {
		return i.Sound() != sound && slices.Contains(i.Sounds, sound)
	})
}
