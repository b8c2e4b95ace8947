package main

import (
	"context"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
	"deskpart/transpose/verify"
)

// TestResultsOutliveScores writes over the memory that a score was read into while its
// result still waits to be delivered: a result that holds pieces of the score's text
// would change, and would keep the text of every score of a shelf in memory.
func TestResultsOutliveScores(t *testing.T) {
	path := filepath.Join("..", "..", "examples", "lanterns-on-the-quay.musicxml")
	info, err := os.Stat(path)
	require.NoError(t, err)
	for _, c := range []struct {
		name string
		work func(*shelfRun) func(t *testing.T, w *run.Worker, in files.Input) any
	}{
		{"survey", func(r *shelfRun) func(*testing.T, *run.Worker, files.Input) any {
			s := &surveyRun{shelfRun: r, options: parts.DefaultOptions()}
			return func(t *testing.T, w *run.Worker, in files.Input) any {
				result, err := s.score(t.Context(), w, in)
				require.NoError(t, err)
				return surveyedScore{in.Path, result.scores[0]}
			}
		}},
		{"verify", func(r *shelfRun) func(*testing.T, *run.Worker, files.Input) any {
			v := &verificationRun{shelfRun: r, parts: parts.DefaultOptions(), memory: make([]verify.Memory, 1)}
			return func(t *testing.T, w *run.Worker, in files.Input) any {
				result, err := v.score(t.Context(), w, in)
				require.NoError(t, err)
				return result[0].name
			}
		}},
		{"convert", func(r *shelfRun) func(*testing.T, *run.Worker, files.Input) any {
			o := &convertOptions{Options: parts.DefaultOptions(), to: "concert"}
			c := &conversion{convertOptions: o, shelfRun: r, folder: t.TempDir(), output: files.NewOutput(files.Making{Command: "convert"})}
			return func(t *testing.T, w *run.Worker, in files.Input) any {
				result, err := c.score(t.Context(), w, in)
				require.NoError(t, err)
				return result.scores
			}
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := &program{streams: &report.Streams{In: strings.NewReader(""), Out: io.Discard, Err: io.Discard}, catalogue: sync.OnceValues(instruments.Load)}
			r := &shelfRun{program: p, flags: &runFlags{limits: musicxml.DefaultLimits()}, pool: run.NewPool(1, 1<<30), spaces: make([]parts.Workspace, 1)}
			work := c.work(r)
			var result any
			in := files.Input{Path: path, Rel: filepath.Base(path), Key: filepath.Base(path), Size: info.Size()}
			require.NoError(t, run.All(t.Context(), r.pool, []files.Input{in}, run.Work[files.Input, struct{}]{
				Do: func(_ context.Context, w *run.Worker, in files.Input) (struct{}, error) {
					result = work(t, w, in)
					return struct{}{}, nil
				}}))
			before, err := json.Marshal(result)
			require.NoError(t, err)
			buffer := r.buffers.Take(int(info.Size()) + 1)
			for i := range buffer[:cap(buffer)] {
				buffer[:cap(buffer)][i] = '?'
			}
			after, err := json.Marshal(result)
			require.NoError(t, err)
			assert.Equal(t, string(before), string(after))
			assert.NotContains(t, string(after), "???")
		})
	}
}
