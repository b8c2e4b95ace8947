// Command deskpart turns a score into the parts that stand on the players'
// desks, each in the pitch, key, clef and octave its player reads.
package main

import (
	"context"
	"os"

	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
)

func main() {
	ctx, stop := run.StopOnSignals(context.Background())
	code := execute(ctx, os.Args[1:], report.SystemStreams())
	stop()
	os.Exit(code)
}
