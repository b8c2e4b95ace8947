package instruments

import (
	"fmt"
	"slices"
)

// chooseMember chooses the key and notation of a kind.
func (s *scene) chooseMember(t target, m *mention) Match {
	if len(m.keys) > 0 && s.c.keyMatters(t.kind) {
		if match, ok := s.memberInKey(t, m); ok {
			return match
		}
	}
	if m.clef != "" {
		if i := s.c.inClef(s.c.byKind[t.kind], m.clef, ""); i != nil && (i.Variant != "" || i.Flags.Usual) {
			return Match{Instrument: i, By: ByName, Why: "named, with its clef"}
		}
	}
	if t.id != "" {
		return Match{Instrument: s.c.byID[t.id], By: ByName, Why: "the name means this key"}
	}
	return s.memberWithoutKey(t, m)
}

// keyMatters reports whether a key beside the kind's name tells something: not
// with timpani, whose keys are their tuning.
func (c *Catalogue) keyMatters(kind string) bool {
	return c.usual(kind).Key != ""
}

// memberWithoutKey is for a name without key: the one that the ensemble or the clef
// of the notes means, the only one there is, the one that the sound id determines, or
// the usual one, which is assumed.
func (s *scene) memberWithoutKey(t target, m *mention) Match {
	usual := s.usual(t)
	unusual := s.c.ordinaryBeside(usual)
	if len(m.keys) > 0 && s.c.keyMatters(t.kind) {
		return Match{Instrument: usual, By: ByFamily, Assumed: true, Alternatives: unusual,
			Why: fmt.Sprintf("no %s in %s in the catalogue; the usual one is assumed", usual.Names("en").Singular, m.keys[0].key)}
	}
	if match, ok := s.memberOfEnsemble(t); ok {
		return match
	}
	if i := s.otherNotation(t.kind); i != nil {
		return Match{Instrument: i, By: ByFamily, Assumed: true, Alternatives: []*Instrument{usual},
			Why: "named without key; the " + i.Clefs[0].Name() + " clef means this notation"}
	}
	if len(unusual) == 0 {
		return Match{Instrument: usual, By: ByName, Why: "named"}
	}
	if i := s.c.determined(t.kind, s.Sound); i != nil {
		return Match{Instrument: i, By: BySound, Why: "named without key; its sound is " + s.Sound}
	}
	return Match{Instrument: usual, By: ByFamily, Assumed: true, Alternatives: unusual,
		Why: "named without key; the usual key is assumed"}
}

// memberOfEnsemble is what a name without key means in the ensemble that the parts
// make. A clef that its player does not read leaves a doubt.
func (s *scene) memberOfEnsemble(t target) (Match, bool) {
	if s.roster == nil {
		return Match{}, false
	}
	i := s.roster.ensemble().read(t.kind)
	if i == nil {
		return Match{}, false
	}
	match := Match{Instrument: i, By: ByName, Why: "named without key; in a " + s.roster.ensemble().title() + " it is this one"}
	if clef, known := s.clef(); known && clef.Sign != i.Clefs[0].Sign {
		match.By, match.Assumed, match.Alternatives = ByFamily, true, []*Instrument{s.usual(t)}
		match.Why += ", though the " + clef.Name() + " clef says another notation"
	}
	return match, true
}

// otherNotation returns the transposing notation of a kind that usually is not
// transposed, where the notes stand in its clef and not in the usual one's: a
// euphonium in the treble clef. It is nil where there is none.
func (s *scene) otherNotation(kind string) *Instrument {
	clef, known := s.clef()
	usual := s.c.usual(kind)
	if !known || usual.Transposes() || usual.reads(clef) {
		return nil
	}
	return s.c.inClef(s.c.byKind[kind], clef.Name(), "")
}

// reads reports whether a clef is among the instrument's, octave signs aside.
func (i *Instrument) reads(clef Clef) bool {
	return slices.ContainsFunc(i.Clefs, func(own Clef) bool { return own.Sign == clef.Sign && own.Line == clef.Line })
}

// ordinaryBeside returns the members of the kind in other keys that are in use.
func (c *Catalogue) ordinaryBeside(usual *Instrument) []*Instrument {
	return filter(c.byKind[usual.Kind], func(i *Instrument) bool {
		return !i.Flags.Rare && i.Variant == "" && i.Interval() != usual.Interval()
	})
}

// determined returns the member of a kind that a sound id belongs to alone.
func (c *Catalogue) determined(kind, sound string) *Instrument {
	found := filter(c.byKind[kind], func(i *Instrument) bool { return i.Sound() == sound && !i.Flags.Rare && i.Variant == "" })
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
