package instruments

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io/fs"
	"slices"
	"strconv"
	"strings"

	"deskpart/transpose/pitch"
)

// A table is one CSV file of the catalogue: a line of column names, then a fact a
// row. Cells that hold several values separate them by "; ".
type table struct {
	name    string
	columns []string
	rows    []row
}

type row struct {
	table *table
	line  int // in the file, 1 is the line of column names
	cells []string
}

// readTable reads a file whose columns must be exactly those named.
func readTable(files fs.FS, name string, columns ...string) (*table, error) {
	data, err := fs.ReadFile(files, name)
	if err != nil {
		return nil, fmt.Errorf("catalogue: %w", err)
	}
	// Spreadsheets like to put a byte order mark in front.
	reader := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff"))))
	t := &table{name: name, columns: columns}
	header, err := reader.Read()
	if err != nil {
		return nil, fmt.Errorf("catalogue: %s: %w", name, err)
	}
	if !slices.Equal(header, columns) {
		return nil, fmt.Errorf("catalogue: %s, line 1: columns are %s; they must be %s",
			name, strings.Join(header, ","), strings.Join(columns, ","))
	}
	cells, err := reader.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("catalogue: %s: %w", name, err)
	}
	for n, c := range cells {
		t.rows = append(t.rows, row{table: t, line: n + 2, cells: c})
	}
	return t, nil
}

// readRows reads a file whose columns must be exactly those named, row by row.
func readRows(files fs.FS, name string, columns []string, read func(row) error) error {
	t, err := readTable(files, name, columns...)
	if err != nil {
		return err
	}
	for _, r := range t.rows {
		if err := read(r); err != nil {
			return err
		}
	}
	return nil
}

// text returns a cell, trimmed.
func (r row) text(column string) string {
	return strings.TrimSpace(r.cells[slices.Index(r.table.columns, column)])
}

// list returns the values of a cell that holds several.
func (r row) list(column string) []string {
	var values []string
	for value := range strings.SplitSeq(r.text(column), ";") {
		if value = strings.TrimSpace(value); value != "" {
			values = append(values, value)
		}
	}
	return values
}

// number returns a cell as a whole number within limits; an empty cell is 0.
func (r row) number(column string, low, high int) (int, error) {
	text := r.text(column)
	if text == "" {
		return 0, nil
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < low || n > high {
		return 0, r.errorf(column, "%q is not a whole number from %d to %d", text, low, high)
	}
	return n, nil
}

// note returns a cell as a note, which must be spelled as pitches are printed; an
// empty cell is an error.
func (r row) note(column string) (pitch.Pitch, error) {
	note, err := pitch.Parse(r.text(column))
	switch {
	case err != nil:
		return note, r.errorf(column, "%w", err)
	case note.String() != r.text(column):
		return note, r.errorf(column, "%q is to be spelled %v", r.text(column), note)
	}
	return note, nil
}

// word returns a cell that must be one of the words given.
func word[T ~string](r row, column string, words ...T) (T, error) {
	text := T(r.text(column))
	if slices.Contains(words, text) {
		return text, nil
	}
	var all []string
	for _, word := range words {
		all = append(all, string(word))
	}
	return "", r.errorf(column, "%q is none of %s", text, strings.Join(all, ", "))
}

func (r row) errorf(column, format string, values ...any) error {
	return fmt.Errorf("catalogue: %s, line %d, column %s: %w",
		r.table.name, r.line, column, fmt.Errorf(format, values...))
}
