package main

import (
	"fmt"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
)

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

// missingWarnings tell of rows of the plan and of patterns that name no part.
func missingWarnings(missing []parts.Missing) []musicxml.Warning {
	var warnings []musicxml.Warning
	for _, m := range missing {
		w := musicxml.Warning{Code: notice.NoSuchPart, Text: m.Error()}
		if m.Row != nil {
			line := ""
			if m.Row.Line > 0 {
				line = fmt.Sprintf(", line %d,", m.Row.Line)
			}
			w = musicxml.Warning{Code: notice.PlanRowUnused, Text: fmt.Sprintf("the plan's row for %q%s names no part of the score; %s", m.Words, line, m.Hint())}
		}
		warnings = append(warnings, w)
	}
	return warnings
}
