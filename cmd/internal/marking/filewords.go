package marking

import (
	_ "embed"
	"encoding/csv"
	"maps"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"
)

// filenamesCSV lists what words in the names of answers' files say, in five languages:
// "exercise", "answer" and "number" stand before the number of an exercise, "class"
// before the name of a class, "pupil" before the number of a pupil who has no name;
// "other" says nothing of whose the file is. Columns: word, what it says, language ("" for
// all), source.
//
//go:embed data/filenames.csv
var filenamesCSV string

// fileWords is the table: what each word says.
type fileWords struct {
	says   map[string]string
	number *regexp.Regexp // the number of an exercise behind a word for it
}

// wordsOfFiles is read when it is first asked for; a table that cannot be read has no words.
var wordsOfFiles = sync.OnceValue(func() fileWords {
	w := fileWords{says: map[string]string{}}
	rows, err := csv.NewReader(strings.NewReader(filenamesCSV)).ReadAll()
	if err != nil {
		return w
	}
	for _, row := range rows[1:] {
		w.says[row[0]] = row[1]
	}
	before := slices.DeleteFunc(slices.Collect(maps.Keys(w.says)), func(word string) bool { return !w.beforeNumber(word) })
	slices.SortFunc(before, func(a, b string) int { return len(b) - len(a) }) // "nr" before "n"
	for i, word := range before {
		before[i] = regexp.QuoteMeta(word)
	}
	w.number = regexp.MustCompile(`(?i)(?:` + strings.Join(before, "|") + `)[-_ .°º]*0*([0-9]{1,3})(?:[^0-9]|$)`)
	return w
})

// beforeNumber reports whether the number of an exercise follows a word.
func (w fileWords) beforeNumber(word string) bool {
	return slices.Contains([]string{"exercise", "answer", "number"}, w.says[word])
}

// saysClass reports whether the name of a class follows a word: "Klasse 8".
func saysClass(word string) bool { return wordsOfFiles().says[strings.ToLower(word)] == "class" }

// saysNoName reports whether a word is no part of a pupil's name.
func saysNoName(word string) bool {
	says := wordsOfFiles().says[strings.ToLower(word)]
	return says != "" && says != "class" && says != "pupil"
}

// saysPupil reports whether a number may follow a word in place of a name: "Pupil 7", "S07".
func saysPupil(word string) bool {
	return wordsOfFiles().says[strings.ToLower(word)] == "pupil" || word != "" && utf8.RuneCountInString(word) <= 2 && !isNumber(word)
}
