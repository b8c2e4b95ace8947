package report

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"syscall"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// OutputError says that results cannot be written. It is the run that has the
// trouble, not one score: the run stops, with exit status 2.
type OutputError struct {
	Path string // the file or folder, or "standard output"
	Err  error
}

func (e *OutputError) Error() string {
	what, remedy := inWords(e.Err)
	if remedy != "" {
		what += "; " + remedy
	}
	return fmt.Sprintf("%s: %s", e.Path, what)
}

func (e *OutputError) Unwrap() error { return e.Err }

// NewOutputError says that err kept results from being written to path.
func NewOutputError(path string, err error) error { return &OutputError{Path: path, Err: err} }

// anotherFolder is what to do where results cannot go where they should.
const anotherFolder = "choose another folder with --out"

// cause is a reason why a file cannot be written or read, in the words of whoever sits
// before the machine, and what to do then.
type cause struct {
	err          error
	what, remedy string
}

// causes are the usual ones; each system has more.
var causes = []cause{
	{syscall.ENOSPC, "the disk is full", "make room and run it again"},
	{syscall.EDQUOT, "your share of the disk is used up", "make room and run it again"},
	{syscall.EFBIG, "the file would be larger than this system allows", anotherFolder},
	{syscall.EROFS, "the disk cannot be written to", anotherFolder},
	{syscall.ENOTDIR, "a file stands where a folder is needed", anotherFolder},
	{syscall.EISDIR, "a folder stands where the file should go", "move it away or " + anotherFolder},
	{fs.ErrExist, "a folder stands where the file should go", "move it away or " + anotherFolder}, // os.Rename's word for it
	{syscall.ENAMETOOLONG, "the path is too long", anotherFolder},
	{fs.ErrClosed, "it is closed", "give the results somewhere to go, or say --quiet"},
	{syscall.EPIPE, "nobody reads it any more", ""},
	{syscall.EIO, "the disk does not work properly", "save what is on it"},
	{syscall.EMFILE, "too many files are open", "run it with fewer --jobs"},
	{fs.ErrPermission, "you may not write here", anotherFolder},
	{fs.ErrNotExist, "the folder cannot be made, or went away while it was written to", "check --out and run it again"},
	{io.ErrShortWrite, "not all of it could be written", "run it again"},
}

func inWords(err error) (what, remedy string) {
	if said, ok := errors.AsType[*musicxml.Error](err); ok {
		return said.Error(), ""
	}
	for _, cause := range slices.Concat(systemCauses, causes) {
		if errors.Is(err, cause.err) {
			return cause.what, cause.remedy
		}
	}
	var path *fs.PathError
	var link *os.LinkError
	switch { // the caller says which path
	case errors.As(err, &path):
		err = path.Err
	case errors.As(err, &link):
		err = link.Err
	}
	return err.Error(), ""
}

// ReadingError says why a file cannot be read, without its path: an error of the
// code unreadable. What it wraps can still be asked for (fs.ErrNotExist …).
func ReadingError(err error) error {
	what, remedy := inWords(err)
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR):
		what, remedy = "there is no such file or folder (any more)", "check its name"
	case isBusy(err): // it has said so
	case errors.Is(err, fs.ErrPermission):
		what, remedy = "you may not read it", "ask whoever owns it"
	case errors.Is(err, syscall.ELOOP):
		what, remedy = "the links go round in a circle", "give the file itself"
	}
	return &musicxml.Error{Code: notice.Unreadable, Err: &worded{what, err}, Hint: remedy}
}

// worded is an error in other words.
type worded struct {
	words string
	err   error
}

func (e *worded) Error() string { return e.words }

func (e *worded) Unwrap() error { return e.err }
