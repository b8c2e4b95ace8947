package instruments_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/instruments"
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

// TestClefNames: a clef's name leads back to it, with the 8 of another octave, too.
func TestClefNames(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]instruments.Clef{"alto": {Sign: "C", Line: 3}, "treble-8vb": {Sign: "G", Line: 2, OctaveChange: -1}, "mezzo-8va": {Sign: "C", Line: 2, OctaveChange: 1}} {
		clef, known := instruments.ParseClef(name)
		assert.True(t, known, name)
		assert.Equal(t, want, clef)
		assert.Equal(t, name, clef.Name())
	}
	for _, none := range []string{"percussion-8va", "treble-8vb-8vb", "bass-15ma"} {
		_, known := instruments.ParseClef(none)
		assert.False(t, known, none)
	}
}
