package parts_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml"
	"deskpart/musicxml/parts"
)

// What stands in one player's part of the words that tell players of a shared staff apart
// (part-preparation (a), proof-notes), in the second bar, over a note. A change of instrument
// over a rest concerns the player whose number it has: another's goes from the part, number and
// all, and the notes stay as they are.
func TestPlayersWordsInAPartOfOne(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ part, over, words, want, why string }{
		{"Flute 1", whole, "a 2", "", "both play: so does the only one"},
		{"Flute 1", whole, "1.", "", "the own number"},
		{"Flute 2", whole, "zu 2", "", "in German"},
		{"Flute 1", whole, "1. Solo", "Solo", "that it is a solo is worth knowing"},
		{"Flute 1", whole, "Solo", "Solo", ""},
		{"Flute 1", whole, "a 2 dolce", "dolce", "how it is played stays"},
		{"Flute 2", whole, "1.", "1.", "another's number over notes: somebody has to look"},
		{"Flute 1", whole, "1. Allegro", "1. Allegro", "a movement's number"},
		{"Flute", whole, "a 2", "a 2", "perhaps there are two"},
		{"Flutes 1 &amp; 2", whole, "a 2", "a 2", "there are two"},
		{"Violin 1", whole, "div. a 2", "div. a 2", "strings are many"},
		{"Violin 1", whole, "1.", "1.", ""},
		{"Flute 1", whole, "3", "3", "a bare number may count bars"},
		{"Flute 2", wholeBar, "1.", "", "another's number"},
		{"Flute 2", wholeBar, "1. nimmt Altflöte", "", "another's change"},
		{"Flute 2", wholeBar, "1. prende Flauto contralto", "", "in Italian"},
		{"Flute 2", wholeBar, "1st to Alto Flute", "", "in English"},
		{"Flute 2", wholeBar, "1re prend Flûte alto", "", "in French"},
		{"Flute 2", wholeBar, "2. nimmt Altflöte", "nimmt Altflöte Alto Flute in G moved", "the own change"},
		{"Flute 2", wholeBar, "1. e 2. prendono Flauto contralto", "prendono Flauto contralto Alto Flute in G moved", "of both"},
		{"Flute 2", wholeBar, "nimmt Altflöte", "nimmt Altflöte Alto Flute in G moved", "of whoever reads it"},
	} {
		bar := `<direction placement="above"><direction-type><words>` + row.words + `</words></direction-type></direction>` + row.over
		made := partOf(makeMini(t, miniScore(t, miniPart{row.part, []string{whole, bar, whole}}), 0, parts.DefaultOptions()))
		var got []string
		for _, words := range made.FindElements("//words") {
			got = append(got, musicxml.Text(words))
		}
		if len(made.FindElements("//transpose")) > 0 {
			got = append(got, "moved")
		}
		assert.Equal(t, row.want, strings.Join(got, " "), "%s, %q: %s", row.part, row.words, row.why)
		assert.Len(t, made.FindElements("//direction"), len(made.FindElements("//words")), "%q: with its direction", row.words)
	}
}
