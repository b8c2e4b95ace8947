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

// wasClosed tells that standard output was closed when the process began. Go's runtime
// then opens the null device there to read and to write (runtime, fds_unix.go). A shell
// never does that: it opens the null device to write alone, or hands on its own. Other
// parents may do either; one that has no standard output itself, such as a "timeout"
// that was begun with it closed, handed on none.
func wasClosed(f *os.File) bool {
	flags, _, errno := syscall.Syscall(syscall.SYS_FCNTL, f.Fd(), syscall.F_GETFL, 0)
	if errno != 0 || flags&syscall.O_ACCMODE != syscall.O_RDWR || !isNull(fmt.Sprintf("/proc/self/fd/%d", f.Fd())) {
		return false
	}
	parent := fmt.Sprintf("/proc/%d/", os.Getppid())
	own := parent + fmt.Sprintf("fd/%d", f.Fd()) // a shell may close its own for the time of a command
	_, err := os.Readlink(own)
	if errors.Is(err, fs.ErrNotExist) {
		_, err := os.Readlink(parent + "exe") // whether it is there, and may be looked at
		return err == nil
	}
	name, unread := os.ReadFile(parent + "comm")
	return err == nil && unread == nil && slices.Contains(shells, strings.TrimSpace(string(name))) && !isNull(own)
}

// isNull reports whether a path leads to the null device.
func isNull(path string) bool {
	const null = 1<<8 | 3 // its major and minor number, null(4)
	var s syscall.Stat_t
	return syscall.Stat(path, &s) == nil && s.Mode&syscall.S_IFMT == syscall.S_IFCHR && s.Rdev == null
}
