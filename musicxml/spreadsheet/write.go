package spreadsheet

import (
	"encoding/csv"
	"io"
)

// Writer writes a table as CSV, every cell guarded.
type Writer struct{ table *csv.Writer }

// NewWriter begins a table.
func NewWriter(w io.Writer) *Writer { return &Writer{csv.NewWriter(w)} }

// Row writes a line of the table. Flush says what went wrong.
func (w *Writer) Row(cells ...string) {
	safe := make([]string, len(cells))
	for i, cell := range cells {
		safe[i] = Guard(cell)
	}
	w.table.Write(safe)
}

// Flush ends the table.
func (w *Writer) Flush() error {
	w.table.Flush()
	return w.table.Error()
}
