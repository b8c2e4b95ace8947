package files

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"time"

	"github.com/gofrs/flock"
)

// errInUse says that another run has what is wanted, errNoLocks that locks are not
// to be had, as on some file systems.
var (
	errInUse   = errors.New("another run is writing here")
	errNoLocks = errors.New("there are no locks here")
)

// patience is how long a run waits for a record that another one has in use: most
// have it for the time of one file. retryDelay is how often it looks.
const patience, retryDelay = 10 * time.Second, 5 * time.Millisecond

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

// waitLock is tryLock that waits until ctx ends, and goes on without where there are
// no locks.
func waitLock(ctx context.Context, path string, flag int) (release func(), err error) {
	for {
		release, err = tryLock(path, flag)
		switch {
		case errors.Is(err, errNoLocks):
			return func() {}, nil
		case !errors.Is(err, errInUse):
			return release, err
		}
		select {
		case <-time.After(retryDelay):
		case <-ctx.Done():
			return nil, context.Cause(ctx)
		}
	}
}
