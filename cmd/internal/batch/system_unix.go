//go:build unix

package batch

import (
	"os/signal"
	"syscall"
)

// openWithoutWaiting keeps an open from waiting for a pipe's other end.
const openWithoutWaiting = syscall.O_NONBLOCK

func ignoreBrokenPipes() { signal.Ignore(syscall.SIGPIPE) }
