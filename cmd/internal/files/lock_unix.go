//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package files

import (
	"errors"
	"os"
	"syscall"
)

// syncNeedsWriter: a folder opened for reading can be synced here.
const syncNeedsWriter = false

// errLocked says that somebody else has the lock.
var errLocked = errors.New("in use")

// lockFile takes the file for this process until it is closed, or returns
// errLocked at once. Another error means that the file system has no locks.
func lockFile(file *os.File) error {
	for {
		err := syscall.Flock(int(file.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		switch {
		case err == syscall.EINTR:
		case err == syscall.EWOULDBLOCK:
			return errLocked
		default:
			return err
		}
	}
}
