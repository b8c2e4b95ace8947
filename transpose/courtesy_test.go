package transpose_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/transpose"
)

// TestCourtesies: of three signs in C major one is needed (F sharp), one answers it
// in the next bar (F natural), and one is the editor's own (G natural).
func TestCourtesies(t *testing.T) {
	t.Parallel()
	timeline, err := musicxml.NewTimeline(partOf(t, "key:0 F#4+sharp G4+natural | F4+natural"))
	require.NoError(t, err)
	signs, err := transpose.Courtesies(timeline)
	require.NoError(t, err)
	require.Len(t, signs, 1)
	one, err := transpose.Courtesies(timelineOf(t, partOf(t, "key:0 F#4+sharp G4+natural")))
	require.NoError(t, err)
	require.Len(t, one, 1, "in one bar")
	none, err := transpose.Courtesies(timelineOf(t, partOf(t, "key:0 F#4+sharp G4")))
	require.NoError(t, err)
	require.Empty(t, none)
	for sign := range signs {
		assert.Equal(t, "G", sign.Parent().FindElement("pitch/step").Text())
	}
}
