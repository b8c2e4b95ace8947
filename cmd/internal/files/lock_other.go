//go:build !(darwin || dragonfly || freebsd || linux || netbsd || openbsd)

package files

import (
	"errors"
	"os"
)

// syncNeedsWriter: a folder cannot be synced here (Windows).
const syncNeedsWriter = true

// errLocked says that somebody else has the lock.
var errLocked = errors.New("in use")

// lockFile cannot lock here.
func lockFile(*os.File) error { return errors.ErrUnsupported }
