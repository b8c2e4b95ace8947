package parts_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// What stands in one player's part of the words that tell players of a shared staff apart
// (part-preparation (a), proof-notes): in the second bar, over a note.
func TestPlayersWordsInAPartOfOne(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ part, words, want, why string }{
		{"Flute 1", "a 2", "", "both play: so does the only one"},
		{"Flute 1", "1.", "", "the own number"},
		{"Flute 2", "zu 2", "", "in German"},
		{"Flute 1", "1. Solo", "Solo", "that it is a solo is worth knowing"},
		{"Flute 1", "Solo", "Solo", ""},
		{"Flute 1", "a 2 dolce", "dolce", "how it is played stays"},
		{"Flute 2", "1.", "1.", "another's number over notes: somebody has to look"},
		{"Flute 1", "1. Allegro", "1. Allegro", "a movement's number"},
		{"Flute", "a 2", "a 2", "perhaps there are two"},
		{"Flutes 1 &amp; 2", "a 2", "a 2", "there are two"},
		{"Violin 1", "div. a 2", "div. a 2", "strings are many"},
		{"Violin 1", "1.", "1.", ""},
		{"Flute 1", "3", "3", "a bare number may count bars"},
	} {
		bar := `<direction placement="above"><direction-type><words>` + row.words + `</words></direction-type></direction>` + whole
		score := miniScore(t, miniPart{row.part, []string{whole, bar}})
		made, err := partstest.Job(t, score, parts.DefaultOptions()).Make(0)
		require.NoError(t, err)
		var got []string
		for _, words := range partOf(made).FindElements("//words") {
			got = append(got, musicxml.Text(words))
		}
		assert.Equal(t, row.want, strings.Join(got, " "), "%s, %q: %s", row.part, row.words, row.why)
	}
}

// A change of instrument over a rest concerns the player whose number it has: another's goes
// from the part, number and all, and the notes stay as they are (part-preparation (a)).
func TestChangesOfAnotherPlayer(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ words, want, why string }{
		{"1.", "", "another's number"},
		{"1. nimmt Altflöte", "", "another's change"},
		{"1. prende Flauto contralto", "", "in Italian"},
		{"1st to Alto Flute", "", "in English"},
		{"1re prend Flûte alto", "", "in French"},
		{"2. nimmt Altflöte", "nimmt Altflöte Alto Flute in G moved", "the own change"},
		{"1. e 2. prendono Flauto contralto", "prendono Flauto contralto Alto Flute in G moved", "of both"},
		{"nimmt Altflöte", "nimmt Altflöte Alto Flute in G moved", "of whoever reads it"},
	} {
		rest := `<direction placement="above"><direction-type><words>` + row.words + `</words></direction-type></direction>` + wholeBar
		made, err := partstest.Job(t, miniScore(t, miniPart{"Flute 2", []string{whole, rest, whole}}), parts.DefaultOptions()).Make(0)
		require.NoError(t, err)
		var got []string
		for _, words := range partOf(made).FindElements("//words") {
			got = append(got, musicxml.Text(words))
		}
		if len(partOf(made).FindElements("//transpose")) > 0 {
			got = append(got, "moved")
		}
		assert.Equal(t, row.want, strings.Join(got, " "), "%q: %s", row.words, row.why)
		assert.Len(t, partOf(made).FindElements("//direction"), len(partOf(made).FindElements("//words")), "%q: with its direction", row.words)
	}
}
