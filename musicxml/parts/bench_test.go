package parts_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
)

// BenchmarkMake extracts every part of the largest shared movement, as one worker
// does: first reading, making, writing.
func BenchmarkMake(b *testing.B) {
	path := musicxmltest.SharedFiles(b, "scores/concert/Brahms_Op.68_1.concert.mxl")[0]
	score := readScore(b, path)
	catalogue, err := instruments.Load()
	require.NoError(b, err)
	size := 0
	for i := range score.Parts {
		size += score.Parts[i].Size()
	}
	b.SetBytes(int64(size))
	b.ReportAllocs()
	var desk parts.Desk
	for b.Loop() {
		c, err := parts.New(score, catalogue, parts.DefaultOptions())
		require.NoError(b, err)
		for i := range score.Parts {
			require.NoError(b, c.Survey(i, &desk))
			desk.Clear()
		}
		assignments, err := c.Assign()
		require.NoError(b, err)
		for _, a := range assignments {
			sheet, err := c.Make(a, &desk)
			require.NoError(b, err)
			if sheet.Document != nil {
				desk.Text(sheet.Document, musicxml.WriteOptions{Indent: 2})
			}
			desk.Clear()
		}
	}
}
