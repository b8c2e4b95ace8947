//go:build !js

package run

import "syscall"

// hangup says that the terminal was closed.
const hangup = syscall.SIGHUP
