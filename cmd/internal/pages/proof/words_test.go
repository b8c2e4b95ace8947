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
	for _, row := range []struct {
		name, why string
		interval  pitch.Interval
		want      string
	}{
		{"none", "a flute", pitch.Interval{}, "sounds as written"},
		{"lower", "a clarinet in B flat", pitch.Interval{Diatonic: -1, Chromatic: -2}, "sounds a major second lower than written"},
		{"higher", "a clarinet in E flat", pitch.Interval{Diatonic: 2, Chromatic: 3}, "sounds a minor third higher than written"},
		{"octave", "a double bass", pitch.Interval{Diatonic: -7, Chromatic: -12}, "sounds an octave lower than written"},
		{"two octaves", "a glockenspiel", pitch.Interval{Diatonic: 14, Chromatic: 24}, "sounds two octaves higher than written"},
		{"enharmonic", "letters move, the sound stays", pitch.Interval{Diatonic: -1}, "sounds a diminished second lower than written"},
	} {
		assert.Equal(t, row.want, soundsWords(row.interval), "%s: %s", row.name, row.why)
	}
}

func TestCount(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "1 bar", notice.Counted(1, "bar", "bars"))
	assert.Equal(t, "10 bars", noneOr(notice.Counted(10, "bar", "bars")))
	assert.Equal(t, "no bars", noneOr(notice.Counted(0, "bar", "bars")))
}
