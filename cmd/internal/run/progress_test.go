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
		name, why       string
		terminal, quiet bool
		total           int
		bar             bool
	}{
		{"terminal", "a bar", true, false, 10, true},
		{"no terminal", "messages alone", false, false, 10, false},
		{"quiet", "messages alone", true, true, 10, false},
		{"one score", "over too soon", true, false, 1, false},
	} {
		t.Run(c.name, func(t *testing.T) {
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
