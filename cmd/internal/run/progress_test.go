package run_test

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
)

// The bar is for a person at a terminal, and never gets into a message.
func TestProgress(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		why                  string
		terminal, quiet, bar bool
		total                int
	}{
		{"a bar", true, false, true, 10},
		{"no terminal", false, false, false, 10},
		{"quiet", true, true, false, 10},
		{"one score is over too soon", true, false, false, 1},
	} {
		t.Run(c.why, func(t *testing.T) {
			t.Parallel()
			var b bytes.Buffer
			streams := &report.Streams{Err: &b, ErrIsTerminal: c.terminal}
			progress := run.NewProgress(streams, "extract", c.total, c.quiet)
			for i := range c.total {
				progress.Step(1)
				if i == 0 {
					progress.Say("a.mxl: odd")
				}
			}
			progress.Done()
			progress.Step(1)
			if c.bar {
				assert.Contains(t, b.String(), "extract", c.why)
				assert.Contains(t, b.String(), "\rdeskpart: a.mxl: odd\n", "the bar is cleared first")
			} else {
				assert.Equal(t, "deskpart: a.mxl: odd\n", b.String(), c.why)
			}
		})
	}
}

// On one terminal, a result never stands in the bar's line: the bar is taken away for it.
func TestResultsAboveTheBar(t *testing.T) {
	t.Parallel()
	var screen bytes.Buffer
	streams := &report.Streams{Out: report.NewResultWriter(&screen), Err: &screen, OutIsTerminal: true, ErrIsTerminal: true}
	progress := run.NewProgress(streams, "scores", 3, false)
	for range 3 {
		progress.Step(1)
		_, err := streams.Out.Write([]byte("a result\n"))
		assert.NoError(t, err)
	}
	progress.Done()
	assert.Contains(t, screen.String(), "scores", "there was a bar")
	lines := bytes.Split(screen.Bytes(), []byte("\n"))
	for _, line := range lines[:3] {
		at := bytes.LastIndexByte(line, '\r')
		assert.Equal(t, "a result", string(line[at+1:]), "%q", line)
	}
}
