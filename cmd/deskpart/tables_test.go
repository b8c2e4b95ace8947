package main

import (
	"encoding/csv"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
)

// Every table of the program can be read as it stands, and each row of a table of facts has
// its source: whoever adds a row is told file and line of a slip, whether or not its package
// looks at that column. Sentences of our own, which have a key, need none.
func TestTablesAreSound(t *testing.T) {
	t.Parallel()
	root := musicxmltest.ProjectRoot(t)
	tables := 0
	require.NoError(t, filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".csv" || filepath.Base(filepath.Dir(path)) != "data" {
			return err
		}
		tables++
		checkTable(t, path)
		return nil
	}))
	assert.Greater(t, tables, 20)
}

func checkTable(t *testing.T, path string) {
	file, err := os.Open(path)
	require.NoError(t, err)
	defer file.Close()
	reader := csv.NewReader(file)
	columns, err := reader.Read()
	require.NoError(t, err, path)
	for {
		row, err := reader.Read()
		if row == nil {
			return
		}
		if !assert.NoError(t, err, path) {
			continue
		}
		line, _ := reader.FieldPos(0)
		for i, cell := range row {
			if columns[i] == "source" && columns[0] != "key" {
				assert.NotEmpty(t, cell, "%s, line %d: no source", path, line)
			}
		}
	}
}
