package transpose_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/transpose"
)

// largestPart finds the part with the longest text of the shared movements.
func largestPart(b *testing.B) (*musicxml.Score, int) {
	b.Helper()
	var score *musicxml.Score
	part, size := 0, 0
	for _, path := range musicxmltest.SharedFiles(b, "scores/concert/*.mxl") {
		s, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
		require.NoError(b, err)
		for i := range s.Parts {
			if n := s.Parts[i].Size(); n > size {
				score, part, size = s, i, n
			}
		}
	}
	return score, part
}

// BenchmarkMove moves the largest part of the shared movements to a clarinet in
// B flat: to be read beside what it costs to parse that part and to lay it out.
// Each benchmark does all that the one before it does.
func BenchmarkMove(b *testing.B) {
	score, i := largestPart(b)
	var slabs musicxml.Slabs
	parse := func(b *testing.B) *musicxml.Timeline {
		slabs.Reset()
		part, err := score.ReadPart(i, &slabs)
		require.NoError(b, err)
		timeline, err := musicxml.NewTimeline(part)
		require.NoError(b, err)
		return timeline
	}
	o := transpose.DefaultOptions()
	o.Stretches = []transpose.Stretch{{To: transpose.Transposition{Diatonic: -1, Chromatic: -2}}}
	steps := []struct {
		name string
		do   func(b *testing.B)
	}{
		{"parse", func(b *testing.B) {
			slabs.Reset()
			_, err := score.ReadPart(i, &slabs)
			require.NoError(b, err)
		}},
		{"timeline", func(b *testing.B) { parse(b) }},
		{"move", func(b *testing.B) {
			result, err := transpose.Move(parse(b), o)
			require.NoError(b, err)
			require.Positive(b, result.Notes)
		}},
	}
	for _, step := range steps {
		b.Run(step.name, func(b *testing.B) {
			b.SetBytes(int64(score.Parts[i].Size()))
			b.ReportAllocs()
			for b.Loop() {
				step.do(b)
			}
		})
	}
}
