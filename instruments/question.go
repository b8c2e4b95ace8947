package instruments

import (
	"fmt"
	"strings"
)

// ask puts into words what a person should settle about a part: where its clef, its
// notes or the other parts contradict what it was taken for, and where nothing tells
// which of two instruments a name means.
func (s *scene) ask(m *Match) {
	i := m.Instrument
	if i == nil || m.Question != "" || s.said() != nil {
		return
	}
	switch {
	case s.nobodySings(i):
		m.Question = s.whoElse(i)
	case m.Assumed && m.By != ByFamily && len(m.Alternatives) > 0:
		m.Question = s.whichOne(m)
	case s.clefAtOdds(i):
		clef, _ := s.clef()
		m.Question = fmt.Sprintf("taken for %s by its name, but it stands in the %s clef, which that does not read", i.Title("en"), clef.Name())
	case s.outOfRange(i):
		m.Question = fmt.Sprintf("taken for %s by its name, but most of its notes lie out of that range%s", i.Title("en"), s.whoseRange(i))
	}
}

// nobodySings reports whether a part was taken for a voice by its name alone, though
// there is not one syllable in the whole score.
func (s *scene) nobodySings(i *Instrument) bool {
	if i.Group != Voices || s.roster == nil {
		return false
	}
	sung, known := s.roster.sung()
	return known && !sung
}

// whoElse says what a bare size may mean but a voice; "" where it means nothing else.
func (s *scene) whoElse(taken *Instrument) string {
	var others []string
	if len(s.heard().named) > 0 {
		for _, t := range s.heard().named[0].targets {
			if other := s.usual(t); t.when == whenFamily && other != taken {
				others = union(others, []string{other.Title("en")})
			}
		}
	}
	if len(others) == 0 {
		return ""
	}
	return fmt.Sprintf("taken for a singer, %s, but no syllables stand in the score; it may be %s", taken.Title("en"), strings.Join(others, " or "))
}

// whichOne words a choice between two readings that sound or are written differently;
// "" where it makes no difference.
func (s *scene) whichOne(m *Match) string {
	for _, other := range m.Alternatives {
		if other.Group == m.Instrument.Group && other.Interval() == m.Instrument.Interval() {
			continue
		}
		text := fmt.Sprintf("taken for %s; it may be %s", m.Instrument.Title("en"), other.Title("en"))
		if why := s.whyOther(m.Instrument, other); why != "" {
			text += " (" + why + ")"
		}
		return text
	}
	return ""
}

// whyOther says what speaks for another reading of the name.
func (s *scene) whyOther(taken, other *Instrument) string {
	if len(s.heard().named) == 0 {
		return ""
	}
	main := s.heard().named[0]
	var a, b *target
	for n := range main.targets {
		switch t := &main.targets[n]; t.kind {
		case taken.Kind:
			a = t
		case other.Kind:
			b = t
		}
	}
	if a == nil || b == nil || taken.Kind == other.Kind {
		return ""
	}
	return s.reasons(*b, *a, main)
}

func (s *scene) clefAtOdds(i *Instrument) bool {
	clef, known := s.clef()
	return known && s.Music.notes() > 0 && s.c.strangeClef(i.Kind, clef)
}

func (s *scene) outOfRange(i *Instrument) bool {
	if s.Music == nil {
		return false
	}
	inside, known := s.Music.inside(i)
	return known && inside < mostly
}

// whoseRange names the instruments of the family for which the notes do lie in range.
func (s *scene) whoseRange(i *Instrument) string {
	var fit []string
	for _, other := range s.c.FamilyMembers(i.Family) {
		if inside, known := s.Music.inside(other); known && inside > 90 && other.Flags.Usual && !other.Flags.Rare && other.Kind != i.Kind {
			fit = append(fit, other.Title("en"))
		}
	}
	if len(fit) == 0 {
		return ""
	}
	return "; they lie in that of " + strings.Join(fit[:min(2, len(fit))], " and ")
}
