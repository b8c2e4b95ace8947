package paper

import "math"

// tooLoose is the cost from which on a line is not considered where a better one
// ends at the same bar: wider than its music wants by two thirds.
const tooLoose = 0.3

// findCandidates lists the lines that may end at each place.
func (s *setter) findCandidates() {
	s.candidates = make([][]line, s.length+1)
	for to := 1; to <= s.length; to++ {
		s.candidates[to] = s.linesTo(to)
	}
}

// linesTo are the lines that may end at a place, without their profiles.
func (s *setter) linesTo(to int) []line {
	m := s.places[to-1]
	if m.layout == nil {
		return []line{{m.from, to, 0, &silentLine}}
	}
	var lines []line
	all := m.layout.LinesTo(to - m.from)
	least := math.Inf(1)
	for _, c := range all {
		least = min(least, c.Cost)
	}
	for _, c := range all {
		if c.Cost <= max(least, tooLoose) {
			lines = append(lines, line{m.from + c.First - 1, to, c.Cost, nil})
		}
	}
	return lines
}

// guessProfiles gives every candidate its profile as it was drawn, or as it is taken
// for now.
func (s *setter) guessProfiles() {
	s.guesses.begin(s.width())
	for _, lines := range s.candidates {
		for i := range lines {
			l := &lines[i]
			if d := s.drawn[[2]int{l.from, l.to}]; d != nil {
				l.profile = d.profile
			} else if l.profile != &silentLine {
				l.profile = s.guesses.profile(s.ink[l.from:l.to], s.trust)
			}
		}
	}
}
