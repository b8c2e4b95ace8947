package cues

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/transpose/pitch"
)

// What a listener hears of a part, bar by bar, counted by hand: middle C is 60 (MIDI 1.0).
func TestActivity(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		why, music string
		octaves    int
		want       []Activity
	}{
		{"a line", "C5 C5 D5:h", 0, []Activity{{attacks: 3, moves: 2, sum: 72 + 72 + 74, cover: 1}}},
		{"as it sounds", "C5 C5 D5:h", 1, []Activity{{attacks: 3, moves: 2, sum: 84 + 84 + 86, cover: 1}}},
		{"a held note is not struck again, and sounds", "C5:h D5:h~ | D5:h^ r:h | D5:w", 0, []Activity{{attacks: 2, moves: 2, sum: 146, cover: 1}, {cover: 0.5}, {attacks: 1, sum: 74, cover: 1}}},
		{"silence", "R | r:h C5:h", 0, []Activity{{}, {attacks: 1, moves: 1, sum: 72, cover: 0.5}}},
		{"the upper note of a chord", "E5:h +C5:h C5+G5:h", 0, []Activity{{attacks: 2, moves: 2, sum: 76 + 79, cover: 1, chords: true}}},
		{"the upper voice", "E5:h r:h / C5:w", 0, []Activity{{attacks: 1, moves: 1, sum: 76, cover: 0.5}}},
		{"the first staff", "E5:h r:h // C3:w", 0, []Activity{{attacks: 1, moves: 1, sum: 76, cover: 0.5}}},
		{"grace notes lead", "g!D5:e C5:w", 0, []Activity{{attacks: 1, moves: 1, sum: 72, cover: 1}}},
		{"hidden notes are not heard for sure", "C5:h* D5:h", 0, []Activity{{attacks: 1, moves: 1, sum: 74, cover: 0.5}}},
		{"strokes have no height", "u!C5:h D5:h", 0, []Activity{{attacks: 1, moves: 1, sum: 74, cover: 0.5}}},
	} {
		timeline, err := musicxml.NewTimeline(shorthand.Part(t, row.music))
		require.NoError(t, err)
		got, err := Gather(timeline, func(musicxml.Position) pitch.Interval { return pitch.Octaves(row.octaves) })
		require.NoError(t, err)
		assert.Equal(t, row.want, got, row.why)
	}
	assert.Equal(t, 73, Activity{attacks: 2, sum: 147}.mean())
	assert.Zero(t, Activity{}.mean())
}
