package percussion

import (
	"slices"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/desks"
)

// keepApart finds the passages of different instruments that one player cannot have, or had
// better not have, because the music leads from the one to the other without time to
// change, or with little: back to a repeat, to a sign, over to a coda.
func (s *section) keepApart() {
	way := s.Clock.Way()
	for a := range way {
		for b := a + 1; b < len(way); b++ {
			gap, _ := s.Clock.Over(way[a].To, a, way[b].From, b)
			if gap >= desks.LeastSeconds {
				break
			}
			s.keepApartOver(way, a, b)
		}
	}
}

// keepApartOver does so for the end of one stretch and the beginning of a later one.
func (s *section) keepApartOver(way []desks.Stretch, a, b int) {
	for d := range s.drums {
		last := s.drums[d].sounds.Within(way[a])
		if len(last) == 0 {
			continue
		}
		stop := last[len(last)-1]
		for e := range s.drums {
			first := s.drums[e].sounds.Within(way[b])
			if e == d || len(first) == 0 {
				continue
			}
			entry := musicxml.Position{Measure: first[0].Measure, Onset: first[0].From}
			rest, _ := s.Clock.Over(musicxml.Position{Measure: stop.Measure, Onset: stop.To}, a, entry, b)
			p, q := s.passageOf(d, stop), s.passageOf(e, first[0])
			later := &s.passages[max(p, q)]
			switch {
			case rest < desks.NoTime:
				later.Apart = with(later.Apart, min(p, q))
			case rest < desks.LeastSeconds:
				later.Hurried = with(later.Hurried, min(p, q))
			}
		}
	}
}

// with adds a passage to a list that has it once.
func with(list []int, passage int) []int {
	if slices.Contains(list, passage) {
		return list
	}
	return append(list, passage)
}

// passageOf is the passage that a sound of a drum belongs to.
func (s *section) passageOf(drum int, sound desks.Sound) (found int) {
	for p := range s.passages {
		if s.passages[p].Instrument == drum && s.spans[p].from.Compare(musicxml.Position{Measure: sound.Measure, Onset: sound.From}) <= 0 {
			found = p
		}
	}
	return found
}
