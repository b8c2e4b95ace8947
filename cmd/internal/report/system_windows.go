package report

import (
	"errors"
	"syscall"

	"golang.org/x/sys/windows"
)

// systemCauses are what Windows calls the usual reasons ("System Error Codes" in its
// documentation), which Go does not translate.
var systemCauses = []cause{
	{windows.ERROR_DISK_FULL, "the disk is full", "make room and run it again"},
	{windows.ERROR_HANDLE_DISK_FULL, "the disk is full", "make room and run it again"},
	{windows.ERROR_WRITE_PROTECT, "the disk cannot be written to", anotherFolder},
	{windows.ERROR_SHARING_VIOLATION, "another program has it open", "close it there and run it again"},
	{windows.ERROR_LOCK_VIOLATION, "another program has it open", "close it there and run it again"},
	{windows.ERROR_FILENAME_EXCED_RANGE, "the path is too long", anotherFolder},
	{windows.ERROR_DIRECTORY, "a file stands where a folder is needed", anotherFolder},
	{windows.ERROR_INVALID_NAME, "this system allows no such name", "choose another"},
	{windows.ERROR_NOT_READY, "there is no disk in the drive, or it was taken out", "put it back and run it again"},
	{windows.ERROR_BAD_NETPATH, "the other machine cannot be reached", "look whether it is on, and run it again"},
	{windows.ERROR_BAD_NET_NAME, "the other machine shares no such folder", "check its name"},
	{windows.ERROR_NETNAME_DELETED, "the other machine is not there any more", "look whether it is on, and run it again"},
	{windows.ERROR_TOO_MANY_OPEN_FILES, "too many files are open", "run it with fewer --jobs"},
}

// isBusy tells that another program has a file open.
func isBusy(err error) bool {
	return errors.Is(err, windows.ERROR_SHARING_VIOLATION) || errors.Is(err, windows.ERROR_LOCK_VIOLATION)
}

// isGone tells that whoever read has gone away: a pipe that is being closed has no data to
// take, and one that is closed is broken.
func isGone(err error) bool {
	return errors.Is(err, windows.ERROR_NO_DATA) || errors.Is(err, windows.ERROR_BROKEN_PIPE) ||
		errors.Is(err, windows.ERROR_PIPE_NOT_CONNECTED) || errors.Is(err, syscall.EPIPE)
}
