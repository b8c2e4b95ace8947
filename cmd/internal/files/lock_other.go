//go:build !windows

package files

import (
	"errors"
	"io/fs"
	"os"

	"github.com/gofrs/flock"
)

// tryLock takes the file or folder at path for this process until release is called,
// or returns errInUse at once. flag is how it is opened.
func tryLock(path string, flag int) (release func(), err error) {
	for {
		lock := flock.New(path, flock.SetFlag(flag), flock.SetPermissions(0o666))
		got, err := lock.TryLock()
		switch {
		case got && !isLockedAt(lock, path): // another has been put in its place
			lock.Close()
			continue
		case got:
			return func() { lock.Close() }, nil
		case err == nil:
			return nil, errInUse
		case errors.Is(err, fs.ErrNotExist):
			return nil, err
		}
		return nil, errNoLocks
	}
}

// isLockedAt tells whether what is locked is still what stands at path.
func isLockedAt(lock *flock.Flock, path string) bool {
	locked, err := lock.Stat()
	if err != nil {
		return false
	}
	there, err := os.Lstat(path)
	return err == nil && os.SameFile(locked, there)
}
