package instruments_test

import (
	"fmt"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml/musicxmltest"
)

// ensembleRows returns the rows of testdata/ensembles.csv by ensemble, in order: what a
// score says of each part, and by how many semitones the part of its player sounds
// away from what is written, by common practice or the source that the row names.
func ensembleRows(t *testing.T) (names []string, parts map[string][]map[string]string) {
	t.Helper()
	parts = map[string][]map[string]string{}
	for _, row := range musicxmltest.ReadTable(t, "../testdata/ensembles.csv") {
		if parts[row["ensemble"]] == nil {
			names = append(names, row["ensemble"])
		}
		parts[row["ensemble"]] = append(parts[row["ensemble"]], row)
	}
	return names, parts
}

// TestEnsembles wants every part of whole ensembles told rightly, or asked about where
// the row allows that.
func TestEnsembles(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	names, parts := ensembleRows(t)
	assert.GreaterOrEqual(t, len(names), 40)
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			var score []instruments.Query
			for _, row := range parts[name] {
				score = append(score, queryOfRow(t, row))
			}
			for i, m := range c.MatchScore(score) {
				checkEnsemblePart(t, parts[name][i], m)
			}
		})
	}
}

func queryOfRow(t *testing.T, row map[string]string) instruments.Query {
	t.Helper()
	clef, ok := instruments.ParseClef(row["clef"])
	require.True(t, ok, row["clef"])
	q := instruments.Query{Name: row["part"], Groups: cells(row["group"])}
	q.Music = &instruments.Music{Clef: clef, Lyrics: row["sung"] == "yes"}
	// A note in the middle of the staff: a G4 in the treble clef.
	if note := map[string]int{"treble": 67, "treble-8vb": 55, "alto": 60, "tenor": 57, "bass": 48}[row["clef"]]; note > 0 {
		q.Music.Pitches = new([128]int)
		q.Music.Pitches[note] = 4
	}
	return q
}

func checkEnsemblePart(t *testing.T, row map[string]string, m instruments.Match) {
	t.Helper()
	want, err := strconv.Atoi(row["semitones"])
	require.NoError(t, err)
	where := fmt.Sprintf("%s, %s as %s: %s %s", row["part"], row["source"], idOf(m.Instrument), m.Why, m.Question)
	asked := m.Instrument == nil || m.Question != ""
	if row["asked"] == "yes" {
		assert.True(t, asked, "asked about no more: %s", where)
		return
	}
	assert.False(t, asked, "asked about: %s", where)
	if m.Instrument != nil {
		assert.Equal(t, want, m.Instrument.Interval().Chromatic, where)
	}
}
