//go:build !linux

package run

// addressSpace is not limited, or not known to be.
func addressSpace() (int64, bool) { return 0, false }
