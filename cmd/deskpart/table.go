package main

import (
	"fmt"
	"io"
	"os"

	"deskpart/cmd/internal/report"
	"deskpart/musicxml"
)

// readTable reads a plan, or another table that a flag names. Errors say which file.
func readTable[T any](path string, read func(io.Reader) (T, error)) (table T, err error) {
	file, err := os.Open(path)
	if err != nil {
		return table, musicxml.Locate(report.ReadingError(err), musicxml.Error{File: path})
	}
	defer file.Close()
	if info, err := file.Stat(); err == nil && info.IsDir() {
		return table, fmt.Errorf("%s: this is a folder, not a table", path)
	}
	if table, err = read(file); err != nil {
		return table, fmt.Errorf("%s: %w", path, err)
	}
	return table, nil
}
