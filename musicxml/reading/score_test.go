package reading_test

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/reading"
)

// parts reads all <part> trees of a score file, packed or not.
func parts(t testing.TB, path string) []*etree.Element {
	t.Helper()
	score, err := musicxml.Read(musicxmltest.ScoreText(t, path), musicxml.ReadOptions{Name: path})
	require.NoError(t, err)
	return shorthand.PartsOf(t, score)
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
