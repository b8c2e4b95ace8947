package pitch

import (
	_ "embed" // words.csv
	"encoding/csv"
	"strings"
	"sync"
)

// words are one language's words for intervals, by the terms of the table's first
// column: sizes in letter steps, qualities, counts of octaves, articles.
//
// Names of intervals are feminine in German and in the Romance languages, so one form
// of each quality is enough, but for the unison, whose own forms stand beside them.
type words map[string]string

//go:embed data/words.csv
var wordsTable string

// languages reads the table: a column a language.
var languages = sync.OnceValue(func() map[Language]words {
	rows, err := csv.NewReader(strings.NewReader(wordsTable)).ReadAll()
	if err != nil || len(rows) == 0 {
		return nil // the tests read the table
	}
	found := map[Language]words{}
	for column, language := range rows[0] {
		if language == "term" || language == "source" {
			continue
		}
		found[Language(language)] = words{}
		for _, row := range rows[1:] {
			found[Language(language)][row[0]] = row[column]
		}
	}
	return found
})

func wordsIn(language Language) words {
	if w, ok := languages()[language]; ok {
		return w
	}
	return english()
}

func english() words { return languages()[English] }
