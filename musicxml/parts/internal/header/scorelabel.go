package header

import (
	_ "embed"
	"encoding/csv"
	"strings"
	"sync"

	"deskpart/musicxml/lexicon"
)

// scoreLabelsCSV lists what a score calls itself on its first page, in five languages (case,
// accents and punctuation do not matter): a part is none of these.
//
//go:embed data/scorelabels.csv
var scoreLabelsCSV string

// scoreLabels are the labels of the table, as the lexicon takes texts apart.
var scoreLabels = sync.OnceValues(func() (map[string]bool, error) {
	rows, err := csv.NewReader(strings.NewReader(scoreLabelsCSV)).ReadAll()
	if err != nil {
		return nil, err
	}
	labels := map[string]bool{}
	for _, row := range rows[1:] {
		labels[plain(row[0])] = true
	}
	return labels, nil
})

func plain(text string) string { return strings.Join(lexicon.Tokens(text), " ") }

// labelJoints are what stands between a heading and the score's label behind it:
// "for school orchestra - score in C".
var labelJoints = []string{" - ", " – ", " — ", ", ", "; ", ": ", " (", " / "}

// withoutScoreLabel takes the score's own label off the end of a heading.
func withoutScoreLabel(text string) string {
	for _, joint := range labelJoints {
		if at := strings.LastIndex(text, joint); at > 0 && isScoreLabel(text[at+len(joint):]) {
			return strings.TrimRight(text[:at], " ")
		}
	}
	return text
}

// isScoreLabel reports whether a text is only the score's own label: "Score in C",
// "(Transposed Score)".
func isScoreLabel(text string) bool {
	labels, err := scoreLabels()
	return err == nil && labels[plain(text)]
}
