package files

import (
	"context"
	"errors"
	"time"
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
