// Command deskpart turns a score into the parts that stand on the players'
// desks, each in the pitch, key, clef and octave its player reads.
package main

import (
	"context"
	"os"

	"deskpart/cmd/internal/batch"
)

func main() {
	ctx, stop := batch.StopOnSignals(context.Background())
	code := run(ctx, os.Args[1:], batch.SystemStreams())
	stop()
	os.Exit(code)
}
