package report

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"syscall"
)

// OutputError says that results cannot be written. It is the run that has the
// trouble, not one score: the run stops, with exit status 2.
type OutputError struct {
	Path string // the file or folder, or "standard output"
	Err  error
}

func (e *OutputError) Error() string { return fmt.Sprintf("%s: %s", e.Path, inWords(e.Err)) }

func (e *OutputError) Unwrap() error { return e.Err }

// NewOutputError says that err kept results from being written to path.
func NewOutputError(path string, err error) error { return &OutputError{Path: path, Err: err} }

// causes are the usual reasons why a file cannot be written or read, in the
// words of whoever sits before the machine.
var causes = []struct {
	err   error
	words string
}{
	{syscall.ENOSPC, "the disk is full; make room and run it again"},
	{syscall.EDQUOT, "your share of the disk is used up; make room and run it again"},
	{syscall.EFBIG, "the file would be larger than this system allows"},
	{syscall.EROFS, "the disk cannot be written to; choose another folder with --out"},
	{syscall.ENOTDIR, "a file stands where a folder is needed; choose another folder with --out"},
	{syscall.EISDIR, "a folder stands where the file should go; move it away or choose another folder with --out"},
	{fs.ErrExist, "a folder stands where the file should go; move it away or choose another folder with --out"}, // os.Rename's word for it
	{syscall.ENAMETOOLONG, "the path is too long; choose another folder with --out"},
	{syscall.EPIPE, "nobody reads it any more"},
	{syscall.EIO, "the disk does not work properly"},
	{syscall.EMFILE, "too many files are open; run it with fewer --jobs"},
	{fs.ErrPermission, "you may not write here; choose another folder with --out"},
	{fs.ErrNotExist, "the folder cannot be made, or went away while it was written to; check --out and run it again"},
	{io.ErrShortWrite, "not all of it could be written; run it again"},
}

func inWords(err error) string {
	var said *inputError
	if errors.As(err, &said) {
		return said.words
	}
	for _, cause := range causes {
		if errors.Is(err, cause.err) {
			return cause.words
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
	return err.Error()
}

// ReadingError says why a file cannot be read, without its path. What it wraps
// can still be asked for (fs.ErrNotExist …).
func ReadingError(err error) error {
	words := inWords(err)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		words = "there is no such file or folder (any more)"
	case errors.Is(err, fs.ErrPermission):
		words = "you may not read it"
	case errors.Is(err, syscall.ELOOP):
		words = "the links go round in a circle"
	case errors.Is(err, syscall.ENOTDIR):
		words = "there is no such file or folder"
	}
	return &inputError{words, err}
}

type inputError struct {
	words string
	err   error
}

func (e *inputError) Error() string { return e.words }

func (e *inputError) Unwrap() error { return e.err }
