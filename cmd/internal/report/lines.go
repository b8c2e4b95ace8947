package report

import (
	"bytes"
	"encoding/json"
	"io"
)

// Lines writes JSON lines: one document a line, so that the reports of several
// machines can be put one after another.
type Lines struct{ w io.Writer }

// NewLines returns a writer of JSON lines to w.
func NewLines(w io.Writer) *Lines { return &Lines{w} }

// Write writes value as one line, in one call of the writer below.
func (l *Lines) Write(value any) error {
	var b bytes.Buffer
	encoder := json.NewEncoder(&b)
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(value); err != nil {
		return err
	}
	_, err := l.w.Write(b.Bytes())
	return err
}
