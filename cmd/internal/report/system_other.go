//go:build !windows

package report

import (
	"errors"
	"syscall"
)

// systemCauses: there are no others than the usual ones.
var systemCauses []cause

// isBusy tells that another program has a file open, which does not matter here.
func isBusy(error) bool { return false }

// isGone tells that whoever read has gone away.
func isGone(err error) bool { return errors.Is(err, syscall.EPIPE) }
