package instruments_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml/musicxmltest"
)

// TestMatchChange asks every row of testdata/changes.csv: words of change are those of
// instrument-names.csv ("change to") and common practice. A name alone is a change for a
// player who has the instrument, may be one where it is another wind instrument's, written
// out, and is none else.
func TestMatchChange(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	told := map[string]instruments.Told{"yes": instruments.Changes, "may": instruments.MayChange, "no": instruments.NoChange}
	for _, row := range musicxmltest.ReadTable(t, "testdata/changes.csv") {
		var has []*instruments.Instrument
		if row["has"] != "" {
			has = append(has, c.ByID(row["has"]))
		}
		m, is := c.MatchChangeOf(row["words"], c.ByID(row["current"]), has)
		assert.Equal(t, told[row["told"]], is, row)
		assert.Equal(t, row["instrument"], idOf(m.Instrument), row)
	}
}

func TestMatchChangePlayers(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	m, ok := c.MatchChange("2. nimmt Piccolo", c.ByID("flute"))
	assert.True(t, ok)
	assert.Equal(t, []int{2}, m.Players)
	m, ok = c.MatchChange("1. 2. muta in Es", c.ByID("horn-f"))
	assert.True(t, ok)
	assert.Equal(t, "1,2", m.Number)
	m, ok = c.MatchChange("Piccolo", c.ByID("flute"))
	assert.True(t, ok)
	assert.True(t, m.Assumed, "a name alone may be a cue")
	_, ok = c.MatchChange("take Piccolo", nil)
	assert.True(t, ok, "without a current instrument")
	_, ok = c.MatchChange("in A", nil)
	assert.False(t, ok, "a key alone needs a current instrument")
}
