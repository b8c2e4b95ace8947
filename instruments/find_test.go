package instruments_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml/musicxmltest"
)

func TestFind(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, row := range musicxmltest.ReadTable(t, "testdata/find.csv") {
		found := c.Find(row["words"])
		if assert.NotEmpty(t, found, row) {
			assert.Equal(t, row["first"], found[0].ID, row)
		}
		if row["also"] != "" {
			assert.Contains(t, found, c.ByID(row["also"]), row)
		}
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
