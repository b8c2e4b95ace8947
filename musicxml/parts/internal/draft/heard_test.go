package draft_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/sounding"
)

// TestSilences: each bar in which something is missing is said once, at its first beat.
func TestSilences(t *testing.T) {
	t.Parallel()
	score, err := sounding.Read(shorthand.Part(t, `C5:w | D5:q E5:q F5:q G5:q | A5:w`))
	require.NoError(t, err)
	part, err := sounding.Read(shorthand.Part(t, `C5:w | D5:q r:q F5:q r:q | R`))
	require.NoError(t, err)
	warnings := draft.Silences(score.Missing(part), "the part")
	require.Len(t, warnings, 2)
	assert.Equal(t, musicxml.Warning{Code: notice.MusicLost, Measure: "2", Beat: "2",
		Text: "the score sounds here and the part is silent (1 quarter note)"}, warnings[0])
	assert.Equal(t, "3", warnings[1].Measure)
	assert.Contains(t, warnings[1].Text, "all through")
	assert.Empty(t, draft.Silences(score.Missing(score), "the part"))
}
