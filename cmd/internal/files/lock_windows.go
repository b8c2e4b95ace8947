package files

import (
	"errors"
	"io/fs"
	"os"

	"golang.org/x/sys/windows"
)

// beyond is where the byte lies that is locked: far behind the end of every file, because
// a lock on Windows keeps the file's own reader and writer from what is locked (LockFileEx
// in its documentation; "locking a region that goes beyond the current end-of-file
// position is not an error").
var beyond = windows.Overlapped{OffsetHigh: 0x7fffffff}

// tryLock takes the file at path for this process until release is called, or returns
// errInUse at once. flag is how it is opened. As long as it is open no other file can be
// put in its place.
func tryLock(path string, flag int) (release func(), err error) {
	file, err := os.OpenFile(path, flag, 0o666)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, err
	case isBusy(err):
		return nil, errInUse
	case err != nil:
		return nil, errNoLocks
	}
	at := beyond
	err = windows.LockFileEx(windows.Handle(file.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, &at)
	switch {
	case err == nil:
		return func() { file.Close() }, nil
	case isBusy(err):
		err = errInUse
	default:
		err = errNoLocks
	}
	file.Close()
	return nil, err
}
