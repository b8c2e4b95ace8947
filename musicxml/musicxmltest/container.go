package musicxmltest

import (
	"archive/zip"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// ScoreText is the text of a score's file; one that is compressed is unpacked by the
// standard library alone.
func ScoreText(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if filepath.Ext(path) == ".mxl" {
		data, err = unpacked(path)
	}
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// unpacked is the first score in a container.
func unpacked(path string) ([]byte, error) {
	container, err := zip.OpenReader(path)
	if err != nil {
		return nil, err
	}
	defer container.Close()
	for _, file := range container.File {
		if !strings.HasPrefix(file.Name, "META-INF") && strings.HasSuffix(file.Name, "xml") {
			return fs.ReadFile(container, file.Name)
		}
	}
	return nil, fs.ErrNotExist
}
