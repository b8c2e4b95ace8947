package reading_test

import (
	"archive/zip"
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/reading"
)

// parts reads all <part> trees of a score file, packed or not.
func parts(t testing.TB, path string) []*etree.Element {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	if filepath.Ext(path) == ".mxl" {
		data = unpack(t, data)
	}
	score, err := musicxml.Read(data, musicxml.ReadOptions{Name: path})
	require.NoError(t, err)
	return shorthand.PartsOf(t, score)
}

// unpack takes the score out of a container with the standard library alone.
func unpack(t testing.TB, data []byte) []byte {
	t.Helper()
	container, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	for _, file := range container.File {
		if strings.HasPrefix(file.Name, "META-INF") || !strings.HasSuffix(file.Name, "xml") {
			continue
		}
		r, err := file.Open()
		require.NoError(t, err)
		defer r.Close()
		text, err := io.ReadAll(r)
		require.NoError(t, err)
		return text
	}
	require.Fail(t, "no score in the container")
	return nil
}

// page reads a part given as XML text.
func page(t testing.TB, xml string) *reading.Page {
	t.Helper()
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(xml))
	p, err := reading.Read(doc.Root())
	require.NoError(t, err)
	return p
}
