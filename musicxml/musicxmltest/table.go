package musicxmltest

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"testing"
)

// TradeTable reads a table of the shared folder's published facts of the trade,
// such as "transpositions.csv", as ReadTable does.
func TradeTable(t testing.TB, name string) []map[string]string {
	t.Helper()
	return ReadTable(t, filepath.Join(SharedDir(t), "trade", name))
}

// ReadTable reads a CSV file as rows by column. A table without rows is a failure:
// it tests nothing.
func ReadTable(t testing.TB, path string) []map[string]string {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	cells, err := csv.NewReader(file).ReadAll()
	if err != nil || len(cells) < 2 {
		t.Fatalf("%s has no rows to test with (%v)", path, err)
	}
	rows := make([]map[string]string, 0, len(cells)-1)
	for _, cell := range cells[1:] {
		row := map[string]string{}
		for i, column := range cells[0] {
			row[column] = cell[i]
		}
		rows = append(rows, row)
	}
	return rows
}
