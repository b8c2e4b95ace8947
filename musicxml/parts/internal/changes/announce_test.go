package changes_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/musicxml/parts/internal/wording"
	"deskpart/transpose/pitch"
)

// What a player is told in any language is what the catalogue reads as a change to that
// very instrument.
func TestAnnouncementsAreChanges(t *testing.T) {
	t.Parallel()
	catalogue, err := instruments.Load()
	require.NoError(t, err)
	for _, language := range pitch.Languages() {
		for from, to := range map[string]string{"flute": "piccolo", "oboe": "english-horn", "clarinet-bflat": "bass-clarinet-bflat", "bassoon": "contrabassoon", "alto-saxophone-eflat": "soprano-saxophone-bflat"} {
			old, in := catalogue.ByID(from), catalogue.ByID(to)
			require.NotNil(t, old, from)
			require.NotNil(t, in, to)
			text := wording.Take(language, in.Label(language, ""))
			m, ok := catalogue.MatchChange(text, old)
			if assert.True(t, ok, text) {
				assert.Equal(t, in.Kind, m.Instrument.Kind, text)
			}
		}
	}
}
