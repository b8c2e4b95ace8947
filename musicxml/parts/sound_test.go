package parts_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/reading"
)

// TestPartsSoundAsTheScore makes every part of every shared score and reads it
// with package reading, which shares no code with transpose: the sounding notes
// (bar, onset, duration, MIDI pitch) equal the score's, and a player who sees
// only clef, signature and printed accidentals plays exactly <pitch>.
func TestPartsSoundAsTheScore(t *testing.T) {
	musicxmltest.EachFile(t, musicxmltest.SharedSample(t, []string{"scores/concert/Haydn*", "scores/written/B*0_3.mxl", "scores/quartets/sq7093885.mxl", "scores/[sl]*/*.mxl"}, scores), func(t *testing.T, path string) {
		score := readScore(t, path)
		for i, m := range makePartsOf(t, score, parts.DefaultOptions()) {
			source, err := score.ReadPart(i, nil)
			require.NoError(t, err)
			want, err := reading.Read(source)
			require.NoError(t, err)
			require.NotNil(t, m.part, m.name)
			got, err := reading.Read(m.part)
			require.NoError(t, err)
			for _, d := range reading.Compare(want.Sounding(), got.Sounding()) {
				assert.Equal(t, reading.Spelled, d.Kind, "%s: %s", m.name, d)
			}
			for _, mismatch := range got.Mismatches() {
				assert.Fail(t, "the page misleads", "%s: %+v", m.name, mismatch)
			}
		}
	})
}
