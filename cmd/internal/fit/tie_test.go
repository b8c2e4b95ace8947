package fit_test

import (
	"fmt"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/fit"
	"deskpart/instruments"
	"deskpart/musicxml/musicxmltest"
)

// A tie is written as <tie>, which is sound, as <tied>, which is notation, or as both
// (MusicXML 4.0, tie): whichever way, the octaves, what is out of range and where the
// line lies are the same. A quartet and an orchestra's movement.
func TestTiesAreOneHoweverWritten(t *testing.T) {
	t.Parallel()
	tie, tied := regexp.MustCompile(`<tie [^>]*/>`), regexp.MustCompile(`<tied [^>]*/>`)
	for _, path := range musicxmltest.SharedFiles(t, "scores/quartets/sq7093885.mxl", "scores/concert/Haydn_104_1.concert.mxl") {
		both := musicxmltest.ScoreText(t, path)
		require.Regexp(t, tie, string(both))
		require.Regexp(t, tied, string(both))
		want := reassignedAll(t, both)
		assert.Equal(t, want, reassignedAll(t, tied.ReplaceAll(both, nil)), "<tie> alone")
		assert.Equal(t, want, reassignedAll(t, tie.ReplaceAll(both, nil)), "<tied> alone")
	}
}

// reassignedAll gives every part to instruments of other heights and says what came of it.
func reassignedAll(t *testing.T, text []byte) []string {
	t.Helper()
	o := open(t, text, instruments.School)
	var list []string
	for i := range o.assignments {
		if told := o.job.Surveyed().Part(o.assignments[i].Part); told.Notes == 0 {
			continue
		}
		for _, to := range musicxmltest.SweepByTurns(i, 1, []string{"flute", "horn-f", "tuba"}) {
			r := o.reassign(t, i, to, "auto", instruments.School)
			list = append(list, fmt.Sprintf("%s to %s: %d %v %v %v %v %v", r.Part, to, r.Octave, r.Changes, r.Outside, r.Unplayable, []fit.Tessitura{r.Before, r.After, r.Reads}, r.Text))
		}
	}
	require.NotEmpty(t, list)
	return list
}
