package instruments

import (
	"fmt"
	"strings"
)

// Match recognises a part that stands alone: MatchScore of one part.
func (c *Catalogue) Match(q Query) Match {
	return c.MatchScore([]Query{q})[0]
}

// MatchScore recognises the instruments of all parts of a score together, in the
// order of the score. Each part's names, clef, lyrics, range and stated transposition
// are weighed in the roster of the others. The key is, by the first that answers:
// the one in the part's names or its group's; that of the standard sound id, where it
// determines one; that of the ensemble; the usual one of the instrument, which is
// then assumed. A part whose names say nothing is recognised by its sound id alone,
// and, assumed, by its playback program.
func (c *Catalogue) MatchScore(queries []Query) []Match {
	co := c.newRoster(queries)
	matches := make([]Match, len(queries))
	for i := range queries {
		s := co.scene(i)
		matches[i] = s.match()
		s.ask(&matches[i])
	}
	return matches
}

func (s *scene) match() Match {
	heard := s.heard()
	if len(heard.named) == 0 {
		return s.matchSound()
	}
	m := s.settle(heard.named)
	if heard.source != "" {
		m.Why = heard.source + "; " + m.Why
	}
	return m
}

// settle turns the mentions of a name into a match: the first instrument is the
// part's, further ones are doubled by the player.
func (s *scene) settle(named []*mention) Match {
	main := named[0]
	if len(named) > 1 {
		s.named = s.c.groupOf(named[1])
	}
	m := s.resolve(main)
	m.Players = main.players()
	m.Number = numberList(m.Players)
	m.Qualifier = strings.Join(main.qualifiers, " ")
	s.addDoubles(&m, main, named[1:])
	m.Unknown = main.unknown
	if len(main.unknown) > 0 && m.Instrument != nil {
		m.Assumed = true
		m.Why += fmt.Sprintf("; not understood: %s", strings.Join(main.unknown, " "))
	}
	return m
}

// groupOf returns the group of a mention that means one instrument, else "".
func (c *Catalogue) groupOf(m *mention) Group {
	if sure := filter(m.targets, target.always); len(sure) == 1 {
		return c.usual(sure[0].kind).Group
	}
	return ""
}

// resolve chooses the instrument that a mention means.
func (s *scene) resolve(m *mention) Match {
	choice := s.choose(m)
	if choice.target.kind == "" {
		return Match{By: ByNone, Why: s.whyNone(m)}
	}
	match := s.chooseMember(choice.target, m)
	if languages := m.speaks(choice.target, s.Language); len(languages) == 1 {
		match.Language = languages[0]
	}
	if !choice.sure {
		match.Assumed = true
		match.Why += "; the word also means " + s.c.kindNames(choice.others)
		for _, t := range choice.others {
			match.Alternatives = append(match.Alternatives, s.usual(t))
		}
	}
	return match
}

// whyNone says why a name that has words of instruments means none.
func (s *scene) whyNone(m *mention) string {
	if len(m.unknown) > 0 {
		return fmt.Sprintf("%q alone is no instrument, and nothing is known of %s", written(m.words), strings.Join(m.unknown, " "))
	}
	return "the name means no instrument in this key, clef or number"
}

func (c *Catalogue) kindNames(targets []target) string {
	var names []string
	for _, t := range targets {
		names = append(names, c.usual(t.kind).Names("en").Singular)
	}
	return strings.Join(names, ", ")
}
