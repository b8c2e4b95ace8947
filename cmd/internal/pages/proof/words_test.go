package proof

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// Names of intervals: common practice, no source.
func TestSoundsWords(t *testing.T) {
	t.Parallel()
	for want, interval := range map[string]pitch.Interval{
		"sounds as written":                             {},
		"sounds a major second lower than written":      {Diatonic: -1, Chromatic: -2}, // a clarinet in B flat
		"sounds a minor third higher than written":      {Diatonic: 2, Chromatic: 3},
		"sounds an octave lower than written":           {Diatonic: -7, Chromatic: -12},
		"sounds two octaves higher than written":        {Diatonic: 14, Chromatic: 24},
		"sounds a diminished second lower than written": {Diatonic: -1}, // letters move, the sound stays
	} {
		assert.Equal(t, want, soundsWords(interval))
	}
}

func TestCount(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "1 bar", notice.Counted(1, "bar", "bars"))
	assert.Equal(t, "10 bars", noneOr(notice.Counted(10, "bar", "bars")))
	assert.Equal(t, "no bars", noneOr(notice.Counted(0, "bar", "bars")))
}
