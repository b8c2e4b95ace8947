package files

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"

	"deskpart/cmd/internal/report"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// What may be replaced, for every command. Only plain files ever are: no device, no
// pipe, no link, whoever runs it. Of these, without Force, only those that an earlier
// run of the same command made and that nobody has changed since; extract's manifests
// say so for the parts of a score, records for all else. A file that holds the very
// bytes already is left alone.

// mayReplace looks at what stands at the folder's file name, where data are to go. It
// reports whether there is nothing to do, and returns an error of the code in-the-way
// where something stands there that must stay.
func (f *Folder) mayReplace(name, path string, data []byte) (done bool, err error) {
	info, err := os.Lstat(path)
	switch {
	case err != nil: // it is not there, or the write says what is wrong
		return false, nil
	case !info.Mode().IsRegular():
		return false, inTheWay(path, "is "+kindOf(info), "only plain files are ever replaced; move it away, or name another")
	case holds(path, info, data):
		return true, nil
	case f.output.making.Force:
		return false, nil
	}
	made, any, err := f.madeEarlier(name)
	switch {
	case err != nil:
		return false, report.NewOutputError(path, err)
	case made:
		return false, nil
	case any:
		return false, inTheWay(path, "was changed since an earlier run made it", "")
	}
	return false, inTheWay(path, "stands there already, and no earlier run of deskpart "+f.output.making.Command+" made it", "")
}

// Check tells whether Write would write: an error of the code in-the-way says what
// keeps it from it.
func (f *Folder) Check(name string, data []byte) error {
	_, err := f.mayReplace(name, filepath.Join(f.dir, name), data)
	return err
}

// CanHold is an error if something stands at dir, or above it, that is no folder, so
// that results cannot go there, or if the system allows no such name. "" is nothing.
func CanHold(dir string) error {
	if err := allowed(dir); err != nil {
		return err
	}
	for at := filepath.Clean(dir); dir != ""; at = filepath.Dir(at) {
		info, err := os.Stat(at)
		switch {
		case err == nil && info.IsDir():
			return nil
		case err == nil:
			return report.NewOutputError(dir, &fs.PathError{Op: "mkdir", Path: at, Err: syscall.ENOTDIR})
		case at == filepath.Dir(at):
			return nil
		}
	}
	return nil
}

// notPlain is the error of mayReplace for what is no plain file.
func notPlain(path string) error {
	if info, err := os.Lstat(path); err == nil && !info.Mode().IsRegular() {
		return inTheWay(path, "is "+kindOf(info), "move it away")
	}
	return nil
}

func inTheWay(path, what, remedy string) error {
	return &musicxml.Error{Code: notice.InTheWay, Err: fmt.Errorf("%s %s", path, what), Hint: remedy}
}

// kindOf says in words what is no plain file.
func kindOf(info fs.FileInfo) string {
	switch mode := info.Mode(); {
	case mode.IsDir():
		return "a folder"
	case mode&fs.ModeNamedPipe != 0:
		return "a pipe"
	case mode&fs.ModeSocket != 0:
		return "a socket"
	case mode&fs.ModeSymlink != 0:
		return "a link"
	}
	return "a device"
}

// holds tells whether the plain file at path has these bytes.
func holds(path string, info fs.FileInfo, data []byte) bool {
	if info.Size() != int64(len(data)) {
		return false
	}
	there, err := os.ReadFile(path)
	return err == nil && string(there) == string(data)
}
