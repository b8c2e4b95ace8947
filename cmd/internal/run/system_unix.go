//go:build unix

package run

import (
	"os/signal"
	"syscall"
)

// terminated says that the process was asked to end.
const terminated = "stopped by SIGTERM"

func ignoreBrokenPipes() { signal.Ignore(syscall.SIGPIPE) }
