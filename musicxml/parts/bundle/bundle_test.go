package bundle_test

import (
	"bytes"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/bundle"
)

// bundled makes a container of a score and its parts and returns its bytes.
func bundled(t *testing.T, score *musicxml.Score) []byte {
	t.Helper()
	catalogue, err := instruments.Load()
	require.NoError(t, err)
	var made []bundle.Part
	for sheet, err := range parts.Extract(score, catalogue, parts.DefaultOptions()) {
		require.NoError(t, err)
		made = append(made, bundle.Part{File: musicxml.File{Name: fmt.Sprintf("parts/%02d %s.musicxml", sheet.Number, sheet.Label),
			Data: musicxml.Append(nil, sheet.Document, musicxml.WriteOptions{Indent: 2})},
			PartIDs: sheet.PartIDs(), Label: sheet.Label, Instruments: sheet.Report.Instruments})
	}
	files, err := bundle.Files(score, "score.musicxml", made, nil, musicxml.WriteOptions{Indent: 2})
	require.NoError(t, err)
	var packed bytes.Buffer
	require.NoError(t, musicxml.WriteContainer(&packed, "score.musicxml", files...))
	return packed.Bytes()
}

// A bundle opens as its score; each link leads to a file of the container whose
// group is that of the link (MusicXML 4.0, part-link, group-link); a bundle of the
// bundle holds its parts once.
func TestBundleIsLinkedAsTheStandardHasIt(t *testing.T) {
	t.Parallel()
	path := musicxmltest.SharedFiles(t, "scores/concert/Brahms_Op.90_3.concert.mxl")[0]
	source, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
	require.NoError(t, err)
	opened, err := musicxml.Read(bundled(t, source), musicxml.ReadOptions{})
	require.NoError(t, err)
	checkBundle(t, source, opened)
	again, err := musicxml.Read(bundled(t, opened), musicxml.ReadOptions{})
	require.NoError(t, err)
	checkBundle(t, source, again)
	assert.Len(t, again.Files, len(opened.Files))
}

func checkBundle(t *testing.T, source, opened *musicxml.Score) {
	t.Helper()
	require.Equal(t, len(source.Parts), len(opened.Parts))
	for i := range source.Parts {
		want, err := source.ReadPart(i, nil)
		require.NoError(t, err)
		got, err := opened.ReadPart(i, nil)
		require.NoError(t, err)
		assert.Equal(t, string(musicxml.AppendPart(nil, want, musicxml.WriteOptions{Indent: 1})),
			string(musicxml.AppendPart(nil, got, musicxml.WriteOptions{Indent: 1})), "the score's own part %d", i)
	}
	files := map[string][]byte{}
	for _, f := range opened.Files {
		files[f.Name] = f.Data
	}
	links := opened.Header.Root().FindElements("part-list/score-part/part-link")
	require.Len(t, links, len(source.Parts))
	for _, link := range links {
		assert.Equal(t, "http://www.w3.org/1999/xlink", opened.Header.Root().SelectAttrValue("xmlns:xlink", ""))
		u, err := url.Parse(link.SelectAttrValue("xlink:href", ""))
		require.NoError(t, err)
		data, ok := files[u.Path]
		require.True(t, ok, "no file %q", u.Path)
		part, err := musicxml.Read(data, musicxml.ReadOptions{})
		require.NoError(t, err)
		entry := part.Header.Root().FindElement("part-list/score-part")
		assert.Equal(t, link.SelectElement("group-link").Text(), entry.SelectElement("group").Text())
		assert.Equal(t, link.Parent().SelectAttrValue("id", ""), entry.SelectAttrValue("id", ""))
	}
	validateScore(t, opened)
}

func validateScore(t *testing.T, score *musicxml.Score) {
	t.Helper()
	var packed bytes.Buffer
	for i := range score.Parts {
		part, err := score.ReadPart(i, nil)
		require.NoError(t, err)
		doc := score.NewPartDocument(i, nil)
		doc.Root().AddChild(part)
		packed.Reset()
		require.NoError(t, musicxml.Write(&packed, doc, musicxml.WriteOptions{}))
		file := filepath.Join(t.TempDir(), "part.musicxml")
		require.NoError(t, os.WriteFile(file, packed.Bytes(), 0o666))
		out, err := musicxmltest.Validate(t, file)
		require.NoError(t, err, out)
		if i == 1 {
			return
		}
	}
}
