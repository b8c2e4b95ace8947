package parts

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/audit"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts/internal/header"
	"deskpart/musicxml/parts/internal/making"
	"deskpart/musicxml/parts/internal/stages"
)

// BenchmarkAudit extracts every part of the largest shared movement as MakeIn does and
// reports which share of the time the audit of the finished parts takes.
func BenchmarkAudit(b *testing.B) {
	score, err := musicxml.ReadFile(musicxmltest.SharedFiles(b, "scores/concert/Brahms_Op.68_1.concert.mxl")[0], musicxml.ReadOptions{})
	require.NoError(b, err)
	catalogue := instrumentstest.Load(b)
	var auditing time.Duration
	w := new(stages.Workspace)
	begun := time.Now()
	for b.Loop() {
		surveyed, err := Survey(score, catalogue, DefaultOptions())
		require.NoError(b, err)
		job, err := surveyed.Assign()
		require.NoError(b, err)
		for _, a := range job.cast.Files {
			d := w.Draft(&surveyed.score.Score, a)
			require.NoError(b, job.maker.Score.Make(d, w, nil))
			doc := header.Document(d, "en")
			before := time.Now()
			audit.Examine(making.Finished(d, doc, w.Page.ClefsRead(d)))
			auditing += time.Since(before)
			_ = (&Part{Document: doc, workspace: w}).Bytes(musicxml.NoteALine)
		}
	}
	b.ReportMetric(100*auditing.Seconds()/time.Since(begun).Seconds(), "audit-%")
}
