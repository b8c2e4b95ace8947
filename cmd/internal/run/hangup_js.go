package run

import "syscall"

// hangup says that the terminal was closed. A browser has none and numbers the signals
// that it knows from 0 on; this one never comes.
const hangup = syscall.Signal(1 << 10)
