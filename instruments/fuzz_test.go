package instruments_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml/musicxmltest"
)

// FuzzMatch: whatever a part is called, recognition answers, says why, and answers
// the same again.
func FuzzMatch(f *testing.F) {
	for _, row := range musicxmltest.ReadTable(f, "testdata/recognition.csv") {
		f.Add(row["name"], row["abbreviation"], row["sound"])
	}
	f.Add("2. nimmt Piccolo", "muta in A", "in Es")
	f.Add("Horn in \x00\xff", "♭♭♭", "//,,((")
	c := instrumentstest.Load(f)
	current := c.ByID("clarinet-bflat")
	f.Fuzz(func(t *testing.T, name, abbreviation, sound string) {
		query := instruments.Query{Name: name, Abbreviation: abbreviation, Sound: sound, InstrumentNames: []string{abbreviation}}
		m := c.Match(query)
		checkMatch(t, m)
		require.Equal(t, m, c.Match(query), "the same again")
		if changed, ok := c.MatchChange(name, current); ok {
			require.NotNil(t, changed.Instrument)
			checkMatch(t, changed)
		}
		_, ok := c.MatchChange(abbreviation, nil)
		_ = ok
		for _, found := range c.Find(name) {
			require.NotNil(t, found)
		}
		c.Similar(name, 3)
	})
}

func checkMatch(t *testing.T, m instruments.Match) {
	t.Helper()
	require.NotEmpty(t, m.Why)
	require.Equal(t, m.By == instruments.ByNone, m.Instrument == nil)
	require.LessOrEqual(t, len(m.Players), 40)
	require.Equal(t, m.Number == "", len(m.Players) == 0)
	require.NotContains(t, m.Doubles, m.Instrument)
	if m.Instrument == nil {
		require.False(t, m.KeyStated)
		return
	}
	require.NotContains(t, m.Alternatives, m.Instrument)
	require.NotEmpty(t, m.Label("de"))
	if m.By == instruments.ByFamily {
		require.True(t, m.Assumed, "the usual key is assumed")
	}
}
