//go:build !windows

package files

// openIsInUse: an open file may be removed and replaced.
const openIsInUse = false

// windowsNames: whether names are those that Windows allows.
const windowsNames = false

// shellExpands: whether the usual shell puts the names in place of a wildcard.
const shellExpands = true

// isBusy tells that another program has a file open, which does not matter here.
func isBusy(error) bool { return false }

// slashed writes a path with forward slashes, as it is.
func slashed(path string) string { return path }
