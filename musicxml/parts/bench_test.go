package parts_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
)

// BenchmarkMake extracts every part of the largest shared movement, as one worker
// does: first reading, making, writing.
func BenchmarkMake(b *testing.B) {
	path := musicxmltest.SharedFiles(b, "scores/concert/Brahms_Op.68_1.concert.mxl")[0]
	score := readScore(b, path)
	catalogue := instrumentstest.Load(b)
	size := 0
	for i := range score.Parts {
		size += score.Parts[i].Size()
	}
	b.SetBytes(int64(size))
	b.ReportAllocs()
	var w parts.Workspace
	o := parts.DefaultOptions()
	o.Each = func(n int, do func(*parts.Workspace, int) error) error {
		for i := range n {
			if err := do(&w, i); err != nil {
				return err
			}
		}
		return nil
	}
	for b.Loop() {
		surveyed, err := parts.Survey(score, catalogue, o)
		require.NoError(b, err)
		job, err := surveyed.Assign()
		require.NoError(b, err)
		for i := range job.Assignments() {
			sheet, err := job.MakeIn(&w, i)
			require.NoError(b, err)
			sheet.Bytes(musicxml.WriteOptions{Indent: 2})
		}
	}
}
