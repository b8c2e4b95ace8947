package main

import "deskpart/musicxml/parts"

// sought counts, over the scores of a run, the words by which parts were asked for and
// none was found: what no score has needs a person.
type sought struct {
	scores  int
	missing map[string]int
}

// note takes the words that name no part of one score.
func (s *sought) note(words []string) {
	if s.missing == nil {
		s.missing = map[string]int{}
	}
	s.scores++
	for _, w := range words {
		s.missing[w]++
	}
}

// anyAbsent reports whether some words name no part of any score.
func (s *sought) anyAbsent() bool {
	for _, n := range s.missing {
		if n == s.scores {
			return true
		}
	}
	return false
}

// wordsOf are the words that name nothing, each once.
func wordsOf(missing []parts.Missing) []string {
	var words []string
	seen := map[string]bool{}
	for _, m := range missing {
		if !seen[m.Words] {
			seen[m.Words] = true
			words = append(words, m.Words)
		}
	}
	return words
}
