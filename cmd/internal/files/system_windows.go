package files

import (
	"errors"
	"strings"

	"golang.org/x/sys/windows"
)

// openIsInUse: an open file can neither be removed nor replaced, so that no lock is wanted
// on a file in the making.
const openIsInUse = true

// windowsNames: whether names are those that Windows allows.
const windowsNames = true

// shellExpands: whether the usual shell puts the names in place of a wildcard.
const shellExpands = false

// isBusy tells that another program has a file open just now, as one that looks for
// viruses or makes copies does for a moment. Renaming over an open file is a denied access,
// and so is opening one that is about to go.
func isBusy(err error) bool {
	return errors.Is(err, windows.ERROR_SHARING_VIOLATION) || errors.Is(err, windows.ERROR_LOCK_VIOLATION) || errors.Is(err, windows.ERROR_ACCESS_DENIED)
}

// slashed writes a path as it is written on other systems, where it means the same.
func slashed(path string) string {
	if strings.HasPrefix(path, `\\?\`) || strings.HasPrefix(path, `\\.\`) {
		return path // the system's own names, which it takes letter by letter
	}
	return strings.ReplaceAll(path, `\`, "/")
}
