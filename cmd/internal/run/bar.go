//go:build !js

package run

import (
	"io"

	"github.com/schollz/progressbar/v3"
)

// newBar is a bar of total steps on a terminal.
func newBar(terminal io.Writer, what string, total int) bar {
	return progressbar.NewOptions(total,
		progressbar.OptionSetWriter(terminal),
		progressbar.OptionSetDescription(what),
		progressbar.OptionShowCount(),
		progressbar.OptionSetPredictTime(true),
		progressbar.OptionFullWidth(),
		progressbar.OptionClearOnFinish(),
		progressbar.OptionThrottle(100_000_000), // a tenth of a second
	)
}
