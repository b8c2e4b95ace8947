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
	label := func(name string, l pitch.Language) string { return c.Match(instruments.Query{Name: name}).Label(l) }
	assert.Equal(t, "Solo Cornet in B♭", label("Solo Cornet", "en"), "the qualifier stays")
	assert.Equal(t, "Repiano Cornet in B♭", label("Repiano Cornet", "en"), "the qualifier stays")
	assert.Equal(t, "Kornett in B Solo", label("Solo Cornet", "de"), "after the name but in English")
	assert.Equal(t, "Solo Violin", label("Violin Solo", "en"), "one order for all")
	assert.Equal(t, "Clarinet in A 2", label("2. Klarinette in A", "en"), "translated")
	assert.Empty(t, label("Part 1", "en"), "nothing recognised")
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
