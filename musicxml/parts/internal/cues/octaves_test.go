package cues

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/transpose/pitch"
)

// The octave in which a cue lies on the staff, counted out by hand on paper: no more than
// one ledger line is left as it is, else as few as can be, as near to the middle line as
// can be. The treble clef's bottom line is E4, the bass clef's G2.
func TestBestOctaves(t *testing.T) {
	t.Parallel()
	bottomOf := func(line string) int {
		p, err := pitch.Parse(line)
		require.NoError(t, err)
		return 7*p.Octave + int(p.Step)
	}
	for _, row := range []struct {
		notes  []string
		bottom string
		want   int
	}{
		{[]string{"B4"}, "E4", 0}, {[]string{"A5"}, "E4", 0}, {[]string{"C4"}, "E4", 0}, {[]string{"B5"}, "E4", 0},
		{[]string{"C6"}, "E4", -1}, {[]string{"E6"}, "E4", -1}, {[]string{"F6"}, "E4", -2}, {[]string{"G6"}, "E4", -2}, {[]string{"F6", "E6"}, "E4", -1}, {[]string{"C7"}, "E4", -2}, {[]string{"C8"}, "E4", -3}, {[]string{"C9"}, "E4", -4},
		{[]string{"A3"}, "E4", 1}, {[]string{"C3"}, "E4", 2}, {[]string{"C2"}, "E4", 3}, {[]string{"C1"}, "E4", 4}, {[]string{"C0"}, "E4", 5},
		{[]string{"C9"}, "G2", -6 + 1}, {[]string{"C6"}, "G2", -3}, {[]string{"E2"}, "G2", 0},
		{[]string{"A5"}, "G0", -5}, // of a bass clef two octaves down the lowest space, not the one above the staff
		{[]string{"C6", "E5"}, "E4", -1}, {[]string{"A5", "A3"}, "E4", 0}, {[]string{"C6", "C4"}, "E4", 0}, {nil, "E4", 0},
	} {
		var pitches []pitch.Pitch
		for _, name := range row.notes {
			p, err := pitch.Parse(name)
			require.NoError(t, err)
			pitches = append(pitches, p)
		}
		assert.Equal(t, row.want, bestOctaves(pitches, bottomOf(row.bottom)), "%v over %s", row.notes, row.bottom)
	}
}
