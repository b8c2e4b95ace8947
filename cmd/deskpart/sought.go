package main

import (
	"fmt"
	"slices"

	"deskpart/musicxml/parts/plan"
)

// sought counts, over the scores of a run, the words by which parts were asked for and
// none was found: what no score has needs a person.
type sought struct {
	scores  int
	words   []string // in the order of asking
	missing map[string]int
	unsaid  bool // no warning was given of some words, score by score
}

// note takes the words that name no part of one score.
func (s *sought) note(words []string) {
	if s.missing == nil {
		s.missing = map[string]int{}
	}
	s.scores++
	for _, w := range words {
		if s.missing[w]++; s.missing[w] == 1 {
			s.words = append(s.words, w)
		}
	}
}

// absent are the words that name no part of any score.
func (s *sought) absent() (words []string) {
	for _, w := range s.words {
		if s.missing[w] == s.scores {
			words = append(words, w)
		}
	}
	return words
}

// lacks reports whether parts were asked for that no score has. Where no warning said
// which, or was to be said, it does: the run ends with a status that asks for a person.
func (r *shelfRun) lacks(s *sought) bool {
	words := s.absent()
	if (r.flags.quiet || s.unsaid) && !r.flags.json {
		for _, w := range words {
			r.progress.Say(fmt.Sprintf("no part is called %q; deskpart survey lists the parts", w))
		}
	}
	return len(words) > 0
}

// wordsOf are the words that name nothing, each once.
func wordsOf(missing []plan.Missing) []string {
	var words []string
	for _, m := range missing {
		if !slices.Contains(words, m.Words) {
			words = append(words, m.Words)
		}
	}
	return words
}
