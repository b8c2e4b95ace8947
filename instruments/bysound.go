package instruments

import (
	"fmt"
	"slices"
)

// matchSound recognises a part whose names say no instrument: by its sound id, or by
// the program that plays it back, which is chosen with less care and is assumed.
func (s *scene) matchSound() Match {
	rest := s.heard().rest
	kind, by, program := s.c.programs[s.Program], fmt.Sprintf("playback program %d", s.Program), true
	if sounding := s.c.sounding(s.Sound); len(sounding) > 0 {
		kind, by, program = sounding[0].Kind, "sound "+s.Sound, false
	}
	if kind == "" {
		return Match{By: ByNone, Why: "no name of an instrument in the catalogue"}
	}
	named := &mention{targets: []target{{kind: kind}}, keys: rest.keys, register: rest.register, clef: rest.clef}
	m := s.resolve(named)
	m.Number, m.Players = numberList(rest.numbers), rest.numbers
	switch {
	case program:
		m.By, m.Assumed = ByFamily, true
	case m.By == ByName:
		m.By = BySound
	}
	m.Why = "the name says no instrument; " + by + "; " + m.Why
	return m
}

// sounding returns the instruments of a standard sound id: those whose own it is
// first, the usual ones before the others.
func (c *Catalogue) sounding(sound string) []*Instrument {
	if sound == "" {
		return nil
	}
	found := filter(c.all, func(i *Instrument) bool { return slices.Contains(i.Sounds, sound) })
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
