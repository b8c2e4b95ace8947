package transpose_test

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
	"deskpart/musicxml/musicxmltest"
)

// eachPart calls do with every part of the shared scores that match the
// patterns. Files that the reader refuses are passed over: they are another
// package's business.
func eachPart(t *testing.T, do func(t *testing.T, name string, part *etree.Element), patterns ...string) {
	t.Helper()
	for _, path := range musicxmltest.SharedFiles(t, patterns...) {
		t.Run(filepath.Base(path), func(t *testing.T) {
			t.Parallel()
			score, err := musicxml.Read(scoreBytes(t, path), musicxml.ReadOptions{Name: path})
			if err != nil {
				t.Skip("not read: ", err)
			}
			names := score.ScoreParts()
			for i := range score.Parts {
				part, err := score.ReadPart(i, nil)
				require.NoError(t, err)
				name := score.Parts[i].ID
				if i < len(names) {
					name += " " + names[i].Name
				}
				do(t, name, part)
			}
		})
	}
}

// scoreBytes returns the text of a score, taken out of its container.
func scoreBytes(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	if filepath.Ext(path) != ".mxl" {
		return data
	}
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	for _, f := range archive.File {
		if strings.HasPrefix(f.Name, "META-INF") || f.FileInfo().IsDir() {
			continue
		}
		if ext := filepath.Ext(f.Name); ext != ".xml" && ext != ".musicxml" {
			continue
		}
		r, err := f.Open()
		require.NoError(t, err)
		defer r.Close()
		data, err := io.ReadAll(r)
		require.NoError(t, err)
		return data
	}
	t.Fatalf("%s holds no score", path)
	return nil
}

// timelineOf lays a part out in time, or returns nil where it cannot be.
func timelineOf(t testing.TB, part *etree.Element) *musicxml.Timeline {
	t.Helper()
	timeline, err := musicxml.NewTimeline(part)
	if err != nil {
		return nil
	}
	return timeline
}

// text writes an element, for comparing and for failure messages.
func text(e *etree.Element) string {
	doc := etree.NewDocumentWithRoot(e.Copy())
	s, err := doc.WriteToString()
	if err != nil {
		return err.Error()
	}
	return s
}
