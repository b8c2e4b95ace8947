//go:build !js

package musicxmltest

import (
	"os"
	"os/signal"
	"syscall"
)

// HeedSignals makes the processes that tests start heed every signal, also where the
// tests themselves were started by what has signals ignored, like nohup: a signal that
// is caught here has its usual meaning in a new process, one that is ignored stays so.
func HeedSignals() {
	caught := make(chan os.Signal, 1)
	for _, s := range []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP} {
		if signal.Ignored(s) {
			signal.Notify(caught, s)
		}
	}
}
