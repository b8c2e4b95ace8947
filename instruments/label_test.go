package instruments_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml/musicxmltest"
	"deskpart/transpose/pitch"
)

// TestLabel: the key stands where the trade says it (instrument-names.csv), in each
// language's own words.
func TestLabel(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, row := range musicxmltest.ReadTable(t, "testdata/labels.csv") {
		assert.Equal(t, row["label"], c.ByID(row["instrument"]).Label(pitch.Language(row["language"]), row["number"]), row)
	}
}

func TestTitleTellsNotationsApart(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	assert.Equal(t, "Horn in F (bass clef, old notation)", c.ByID("horn-f-old-bass").Title("en"))
	assert.Equal(t, "Horn in F", c.ByID("horn-f").Title("en"))
	assert.Equal(t, "Cl. 1", c.ByID("clarinet-a").ShortLabel("en", "1"))
	assert.Equal(t, "Klar.", c.ByID("clarinet-a").Abbreviation("de"))
}

// TestMatchLabel keeps what tells one brass-band part from the next.
func TestMatchLabel(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, test := range []struct{ name, language, want, why string }{
		{"Solo Cornet", "en", "Solo Cornet in B♭", "the qualifier stays"},
		{"Repiano Cornet", "en", "Repiano Cornet in B♭", "the qualifier stays"},
		{"Solo Cornet", "de", "Kornett in B Solo", "after the name but in English"},
		{"Violin Solo", "en", "Solo Violin", "one order for all"},
		{"2. Klarinette in A", "en", "Clarinet in A 2", "translated"},
		{"Part 1", "en", "", "nothing recognised"},
	} {
		assert.Equal(t, test.want, c.Match(instruments.Query{Name: test.name}).Label(pitch.Language(test.language)), test.why)
	}
}

// TestDescribe: the English wording is held against the trade's table row by row in
// TestTradeTranspositions; here are the other languages, worded by hand.
func TestDescribe(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, row := range musicxmltest.ReadTable(t, "testdata/descriptions.csv") {
		assert.Equal(t, row["words"], c.ByID(row["instrument"]).Describe(pitch.Language(row["language"])), row)
	}
}
