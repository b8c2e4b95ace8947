package files

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"deskpart/cmd/internal/report"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// ReadInput reads a file whole, at most limit bytes (below 1: no limit). It never
// waits: a pipe or device that has come in the file's place is an error, and so
// is a file that changes while it is read. The bytes are read into buffer if they
// fit. Errors say what is wrong without the path.
func ReadInput(path string, limit int64, buffer []byte) ([]byte, error) {
	file, err := os.OpenFile(path, os.O_RDONLY|openWithoutWaiting, 0)
	if err != nil {
		return nil, report.ReadingError(err)
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return nil, report.ReadingError(err)
	}
	if !info.Mode().IsRegular() {
		return nil, notAFile(info)
	}
	size := info.Size()
	if limit > 0 && size > limit {
		return nil, &musicxml.Error{Code: notice.TooLarge, Err: fmt.Errorf("the file has %d bytes, more than the %d allowed", size, limit)}
	}
	return readExactly(file, size, buffer)
}

var errChanged = &musicxml.Error{Code: notice.Changed, Err: errors.New("the file changed while it was read")}

// readExactly reads size bytes and makes sure that there are no more.
func readExactly(file io.Reader, size int64, buffer []byte) ([]byte, error) {
	if int64(cap(buffer)) < size+1 {
		buffer = make([]byte, size+1)
	}
	n, err := io.ReadFull(file, buffer[:size+1])
	switch {
	case err == nil || int64(n) != size && (err == io.ErrUnexpectedEOF || err == io.EOF):
		return nil, errChanged
	case err != io.ErrUnexpectedEOF && err != io.EOF:
		return nil, report.ReadingError(err)
	}
	return buffer[:size], nil
}

// notAFile says what stands where a file should.
func notAFile(info fs.FileInfo) error {
	return &musicxml.Error{Code: notice.NotAFile, Err: fmt.Errorf("this is %s, not a file", kindOf(info))}
}
