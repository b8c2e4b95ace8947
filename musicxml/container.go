package musicxml

import (
	"errors"
	"io"
)

// WriteContainer writes a compressed score (.mxl): the files in the given
// order, with rootName, which must be among them, named as the score. The same
// files give the same bytes.
func WriteContainer(w io.Writer, rootName string, files ...File) error {
	return errors.New("not yet written")
}
