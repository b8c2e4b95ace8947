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
