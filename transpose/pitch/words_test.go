package pitch_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
	"deskpart/transpose/pitch"
)

// The words of the other languages were written by hand, from memory; the English
// ones are held against the trade's table elsewhere.
func TestIntervalsInLanguages(t *testing.T) {
	t.Parallel()
	for _, row := range musicxmltest.ReadTable(t, "testdata/names.csv") {
		i, err := pitch.ParseInterval(row["interval"])
		require.NoError(t, err, row)
		language := pitch.Language(row["language"])
		assert.Equal(t, row["name"], i.NameIn(language), row)
		assert.Equal(t, row["article"], i.WithArticle(language), row)
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
