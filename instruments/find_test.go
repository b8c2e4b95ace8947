package instruments_test

import (
	"testing"

	"deskpart/instruments/instrumentstest"

	"github.com/stretchr/testify/assert"
)

func TestFind(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, test := range []struct{ words, first, also, why string }{
		{"clarinet-a", "clarinet-a", "", "an id"},
		{"Clarinet-A", "clarinet-a", "", "an id, case free"},
		{"clarinet in A", "clarinet-a", "", "a name with its key"},
		{"bb trumpet", "trumpet-bflat", "", "key first"},
		{"horn", "horn-f", "horn-bflat-basso", "the usual one, then the others"},
		{"horn in F", "horn-f", "horn-f-old-bass", "then the other notation in that key"},
		{"flute", "flute", "", "an id and a name"},
		{"Bratsche", "viola", "", "another language"},
		{"alto sax", "alto-saxophone-eflat", "", "short"},
		{"bass", "bass-voice", "double-bass", "two meanings"},
		{"drums", "drum-set", "", "a name goes before a family"},
		{"cymbals", "cymbals", "", "a name goes before a family"},
		{"wagner-tuba", "tenor-wagner-tuba-bflat", "bass-wagner-tuba-f", "hyphens are spaces"},
		{"recorder", "soprano-recorder", "alto-recorder", "several of the name"},
		{"effects", "siren", "whistle", "a family without an instrument of its name"},
	} {
		t.Run(test.words, func(t *testing.T) {
			found := c.Find(test.words)
			if assert.NotEmpty(t, found, test.why) {
				assert.Equal(t, test.first, found[0].ID, test.why)
			}
			if test.also != "" {
				assert.Contains(t, found, c.ByID(test.also), test.why)
			}
		})
	}
	for _, nothing := range []string{"", "   ", "bazooka", "♭", "1", "/", "Concert Band"} {
		assert.Empty(t, c.Find(nothing), "%q is no instrument", nothing)
	}
}

func TestSimilar(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, test := range []struct{ words, want, why string }{
		{"clarinett-a", "clarinet-a", "a letter too many"},
		{"trupet", "trumpet-bflat", "a letter missing: the kind"},
		{"bassooon", "bassoon", "a letter twice"},
		{"Marimbá", "marimba", "an accent"},
	} {
		assert.Contains(t, c.Similar(test.words, 12), test.want, test.why)
	}
	assert.Len(t, c.Similar("horn", 3), 3, "no more than asked for")
	assert.Empty(t, c.Similar("zzzzzzzz", 5))
}
