package batch

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"syscall"
)

// Interrupted is the cause of a context that a signal ended.
type Interrupted struct{ Signal os.Signal }

func (i Interrupted) Error() string { return fmt.Sprintf("stopped by %s", i.Signal) }

// StopOnSignals returns a context that ends with an Interrupted cause at the
// first Ctrl-C, SIGTERM or SIGHUP, so that the run stops in good order. A second signal
// ends the process at once. From here on, writing to a pipe that nobody reads
// is an error of the write instead of the process's silent end.
func StopOnSignals(parent context.Context) (context.Context, context.CancelFunc) {
	ignoreBrokenPipes()
	ctx, cancel := context.WithCancelCause(parent)
	signals := make(chan os.Signal, 1)
	for _, stop := range []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP} {
		if !signal.Ignored(stop) { // nohup and background jobs of scripts ignore some
			signal.Notify(signals, stop)
		}
	}
	go func() {
		select {
		case got := <-signals:
			signal.Stop(signals)
			cancel(Interrupted{got})
		case <-ctx.Done():
			signal.Stop(signals)
		}
	}()
	return ctx, func() { cancel(nil) }
}
