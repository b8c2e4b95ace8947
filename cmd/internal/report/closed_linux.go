package report

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"syscall"
)

// shells are the programs that people close a stream in ("deskpart survey x >&-").
var shells = []string{"sh", "bash", "dash", "zsh", "ksh", "mksh", "fish", "busybox"}

// wasClosed tells that standard output was closed when a shell began the process. Go's
// runtime then opens the null device there to read and to write (runtime, fds_unix.go),
// which a shell never does: it opens the null device to write alone, or hands on its own.
// Of other parents nothing is known, because they may do either.
func wasClosed(f *os.File) bool {
	flags, _, errno := syscall.Syscall(syscall.SYS_FCNTL, f.Fd(), syscall.F_GETFL, 0)
	if errno != 0 || flags&syscall.O_ACCMODE != syscall.O_RDWR || !isNull(fmt.Sprintf("/proc/self/fd/%d", f.Fd())) {
		return false
	}
	parent := fmt.Sprintf("/proc/%d/", os.Getppid())
	name, err := os.ReadFile(parent + "comm")
	if err != nil || !slices.Contains(shells, strings.TrimSpace(string(name))) {
		return false
	}
	own := parent + fmt.Sprintf("fd/%d", f.Fd()) // the shell's, which it may close for the time of a command
	_, err = os.Readlink(own)
	return errors.Is(err, fs.ErrNotExist) || err == nil && !isNull(own)
}

// isNull reports whether a path leads to the null device.
func isNull(path string) bool {
	const null = 1<<8 | 3 // its major and minor number, null(4)
	var s syscall.Stat_t
	return syscall.Stat(path, &s) == nil && s.Mode&syscall.S_IFMT == syscall.S_IFCHR && s.Rdev == null
}
