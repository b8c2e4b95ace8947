//go:build unix

package run

import (
	"os/signal"
	"syscall"
)

func ignoreBrokenPipes() { signal.Ignore(syscall.SIGPIPE) }
