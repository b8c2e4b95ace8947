package run

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"syscall"
)

// Interrupted is the cause of a context that a signal ended.
type Interrupted struct{ Signal os.Signal }

// Error names the signal as people know it.
func (i Interrupted) Error() string {
	switch i.Signal {
	case os.Interrupt:
		return "stopped by Ctrl-C"
	case syscall.SIGTERM:
		return terminated
	case hangup:
		return "stopped because the terminal was closed"
	}
	return fmt.Sprintf("stopped by %s", i.Signal)
}

// Status is the exit status of a run that the signal ended, as shells count it.
func (i Interrupted) Status() int {
	if signal, is := i.Signal.(syscall.Signal); is {
		return 128 + int(signal)
	}
	return 128
}

// Is makes it a context.Canceled, so that one question tells an item that was
// interrupted from one that is bad.
func (i Interrupted) Is(target error) bool { return target == context.Canceled }

// StopOnSignals returns a context that ends with an Interrupted cause at the
// first Ctrl-C, SIGTERM or SIGHUP, on Windows Ctrl-C, Ctrl-Break or the end of the window, so
// that the run stops in good order. A second signal ends the process at once. From here on, writing to a pipe that nobody reads
// is an error of the write instead of the process's silent end.
func StopOnSignals(parent context.Context) (context.Context, context.CancelFunc) {
	ignoreBrokenPipes()
	ctx, cancel := context.WithCancelCause(parent)
	signals := make(chan os.Signal, 1)
	for _, stop := range []os.Signal{os.Interrupt, syscall.SIGTERM, hangup} {
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
