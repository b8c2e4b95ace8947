package paper

import (
	_ "embed"
	"encoding/csv"
	"strconv"
	"strings"
	"sync"
)

// temposCSV lists the usual words for a tempo and what is believed of them, in beats a
// minute (common practice, from memory: the middle of what metronomes print). Columns:
// words in small letters, beats, language, source. The first row that a text contains is
// taken: "allegretto" before a mere "allegro".
//
//go:embed data/tempos.csv
var temposCSV string

// temposOfWords is the table, read when it is first asked for.
var temposOfWords = sync.OnceValue(func() [][]string {
	rows, err := csv.NewReader(strings.NewReader(temposCSV)).ReadAll()
	if err != nil {
		return nil
	}
	return rows[1:]
})

// wordTempo is what is believed of a tempo in words, in beats a minute.
func wordTempo(text string) (tempo float64, ok bool) {
	text = strings.ToLower(text)
	for _, row := range temposOfWords() {
		if strings.Contains(text, row[0]) {
			tempo, err := strconv.ParseFloat(row[1], 64)
			return tempo, err == nil
		}
	}
	return 0, false
}
