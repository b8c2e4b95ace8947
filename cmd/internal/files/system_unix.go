//go:build unix

package files

import "syscall"

// openWithoutWaiting keeps an open from waiting for a pipe's other end.
const openWithoutWaiting = syscall.O_NONBLOCK

// syncNeedsWriter: whether a folder that is opened for reading cannot be synced.
const syncNeedsWriter = false
