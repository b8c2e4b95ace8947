package pitch_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml/musicxmltest"
	"deskpart/transpose/pitch"
)

// The words of the other languages were written by hand, from memory; the English
// ones are held against the trade's table elsewhere.
func TestIntervalsInLanguages(t *testing.T) {
	t.Parallel()
	rows := []struct {
		language                     pitch.Language
		interval, name, article, why string
	}{
		{"en", "octave up", "octave", "an octave", "an octave needs no quality"},
		{"en", "augmented fourth up", "augmented fourth", "an augmented fourth", "an before a vowel"},
		{"en", "two octaves down", "two octaves", "two octaves", "several have no article"},
		{"en", "two octaves and an augmented second up", "two octaves and an augmented second", "two octaves and an augmented second", "the second part has one"},
		{"de", "major second down", "große Sekunde", "eine große Sekunde", "the quality before the size"},
		{"de", "three octaves and a minor third up", "drei Oktaven und eine kleine Terz", "drei Oktaven und eine kleine Terz", ""},
		{"de", "doubly augmented fourth up", "doppelt übermäßige Quarte", "eine doppelt übermäßige Quarte", ""},
		{"fr", "major second down", "seconde majeure", "une seconde majeure", "the quality after the size"},
		{"fr", "minor fourteenth up", "quatorzième mineure", "une quatorzième mineure", ""},
		{"it", "octave down", "ottava", "un'ottava", "elision before a vowel"},
		{"it", "perfect eleventh down", "undicesima giusta", "un'undicesima giusta", "elision before a vowel"},
		{"it", "minor third down", "terza minore", "una terza minore", ""},
		{"es", "major thirteenth down", "decimotercera mayor", "una decimotercera mayor", ""},
		{"es", "ten octaves up", "diez octavas", "diez octavas", "words to ten"},
		{"es", "11 octaves up", "11 octavas", "11 octavas", "and figures from there"},
		{"fr", "augmented unison up", "unisson augmenté", "un unisson augmenté", "the unison is masculine"},
		{"it", "augmented unison up", "unisono aumentato", "un unisono aumentato", "the unison is masculine"},
		{"es", "perfect unison up", "unísono justo", "un unísono justo", "the unison is masculine"},
		{"de", "perfect unison up", "reine Prime", "eine reine Prime", "but not in German"},
		{"en", "augmented unison up", "augmented unison", "an augmented unison", ""},
		{"it", "doubly augmented fourth up", "quarta più che aumentata", "una quarta più che aumentata", ""},
		{"en", "augmented unison up", "augmented unison", "an augmented unison", ""},
		{"de", "augmented unison up", "übermäßige Prime", "eine übermäßige Prime", ""},
		{"fr", "perfect unison", "unisson juste", "un unisson juste", "masculine"},
		{"fr", "augmented unison up", "unisson augmenté", "un unisson augmenté", "masculine"},
		{"it", "perfect unison", "unisono giusto", "un unisono giusto", "masculine"},
		{"es", "augmented unison down", "unísono aumentado", "un unísono aumentado", "masculine"},
		{"fr", "doubly augmented unison up", "unisson doublement augmenté", "un unisson doublement augmenté", "masculine"},
		{"fr", "two octaves and an augmented unison up", "deux octaves et un unisson augmenté", "deux octaves et un unisson augmenté", "masculine"},
		{"en", "two octaves and a diminished unison up", "two octaves and a diminished unison", "two octaves and a diminished unison", "an augmented one down, said of octaves"},
		{"it", "diminished octave up", "ottava diminuita", "un'ottava diminuita", "feminine"},
		{"xx", "major second down", "major second", "a major second", "any other is taken as English"},
		{"term", "major second down", "major second", "a major second", "the table's own columns are no languages"},
		{"source", "major second down", "major second", "a major second", "the table's own columns are no languages"},
	}
	for _, row := range rows {
		i, err := pitch.ParseInterval(row.interval)
		if !assert.NoError(t, err, row.interval) {
			continue
		}
		assert.Equal(t, row.name, i.NameIn(row.language), row.why)
		assert.Equal(t, row.article, i.WithArticle(row.language), row.why)
	}
}

// No cell of the table of words is empty or has blanks at its ends.
func TestTableOfWordsIsWhole(t *testing.T) {
	t.Parallel()
	for _, row := range musicxmltest.ReadTable(t, "data/words.csv") {
		for column, cell := range row {
			assert.Regexp(t, `^\S(.*\S)?$`, cell, "%s of %s", column, row["term"])
		}
	}
}
