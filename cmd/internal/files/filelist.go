package files

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path"
	"path/filepath"
	"strings"

	"deskpart/cmd/internal/report"
)

// readList reads the paths of --files-from. One NUL anywhere means that NULs
// separate them and that a path may hold line ends.
func (s Search) readList() ([]string, error) {
	var text []byte
	var err error
	switch {
	case s.FilesFrom != "-":
		text, err = os.ReadFile(s.FilesFrom)
	case s.In != nil:
		text, err = io.ReadAll(s.In)
	default:
		return nil, errors.New("there is no standard input; write the paths to a file and name that")
	}
	if err != nil {
		return nil, report.ReadingError(err)
	}
	text = bytes.TrimPrefix(text, []byte("\uFEFF")) // as some editors write it
	separator, end := "\n", "\r"                    // as some systems end a line
	if bytes.IndexByte(text, 0) >= 0 {
		separator, end = "\x00", ""
	}
	var paths []string
	for path := range strings.SplitSeq(string(text), separator) {
		if path = strings.TrimSuffix(path, end); path != "" {
			paths = append(paths, path)
		}
	}
	return paths, nil
}

// listedKey keeps a listed file's folders, less what leads to the root or upwards,
// as archivers do: the list has no folder to count from, and names alone would
// clash, differently in every part of a list that is split among machines.
func listedKey(at string) string {
	at = strings.TrimPrefix(at, filepath.VolumeName(at))
	return strings.TrimPrefix(path.Clean("/"+filepath.ToSlash(at)), "/")
}
