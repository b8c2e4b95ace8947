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

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/bundle"
)

// bundled makes a container of a score and its parts and returns its bytes.
func bundled(t *testing.T, score *musicxml.Score) []byte {
	t.Helper()
	catalogue := instrumentstest.Load(t)
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
	for i, want := range shorthand.PartsOf(t, source) {
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
	for i, part := range shorthand.PartsOf(t, score) {
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

// Which files travel, and what the score says of them, by hand: links of an earlier bundle go
// with their files, others stay; a part of some of a staff's instruments names those that it
// has; names are written as the path of a URL (MusicXML 4.0, part-link, instrument-link,
// group-link; RFC 3986).
func TestLinksOfABundle(t *testing.T) {
	t.Parallel()
	const music = `<measure number="1"><attributes><divisions>1</divisions></attributes><note><rest/><duration>4</duration></note></measure>`
	read := func(list string) *musicxml.Score {
		score, err := musicxml.Read([]byte(`<score-partwise xmlns:xlink="http://www.w3.org/1999/xlink"><part-list>`+list+`</part-list><part id="P1">`+music+`</part><part id="P2">`+music+`</part></score-partwise>`), musicxml.ReadOptions{})
		require.NoError(t, err)
		score.Files = []musicxml.File{{Name: "seal.png"}, {Name: "old/Flute 1.musicxml"}, {Name: "score.musicxml"}, {Name: "parts/02.musicxml"}, {Name: "parts/01 Flöte.musicxml", Data: []byte("old")}}
		return score
	}
	score := read(`<score-part id="P1"><part-link xlink:href="old/Flute%201.musicxml"/><part-name>Flutes</part-name><score-instrument id="A"><instrument-name>1</instrument-name></score-instrument><score-instrument id="B"><instrument-name>2</instrument-name></score-instrument></score-part>` +
		`<score-part id="P2"><part-name>Oboe</part-name></score-part>`)
	made := []bundle.Part{
		{File: musicxml.File{Name: "/parts/01 Flöte.musicxml"}, PartIDs: []string{"P1"}, Label: "Flute 1", Instruments: []string{"B"}},
		{File: musicxml.File{Name: "parts/02.musicxml"}, PartIDs: []string{"P1"}, Label: "Flutes", Instruments: []string{"A", "B"}},
		{File: musicxml.File{Name: "parts/03.musicxml"}, PartIDs: []string{"P2", "P1", "P9"}, Label: "Both"},
	}
	plain, err := musicxml.Read([]byte(`<score-partwise><part-list><score-part id="P1"><part-name>Oboe</part-name><score-instrument id="A"><instrument-name>1</instrument-name></score-instrument></score-part></part-list><part id="P1">`+music+`</part></score-partwise>`), musicxml.ReadOptions{})
	require.NoError(t, err)
	files, err := bundle.Files(plain, "score.musicxml", []bundle.Part{{PartIDs: []string{"P1"}, Label: "Oboe"}, {PartIDs: []string{"P1"}, Label: "Other", Instruments: []string{"Z"}}}, nil, musicxml.WriteOptions{})
	require.NoError(t, err)
	assert.Contains(t, string(files[0].Data), ` xmlns:xlink="http://www.w3.org/1999/xlink"`)
	assert.NotContains(t, string(files[0].Data), "instrument-link")
	again, err := musicxml.Read(files[0].Data, musicxml.ReadOptions{})
	require.NoError(t, err)
	part, err := again.ReadPart(0, nil)
	require.NoError(t, err)
	assert.Equal(t, "4", part.FindElement("measure/note/duration").Text(), "the music stays")
	files, err = bundle.Files(score, "score.musicxml", made, nil, musicxml.WriteOptions{})
	require.NoError(t, err)
	var names []string
	for _, f := range files {
		names = append(names, f.Name)
	}
	assert.Equal(t, []string{"score.musicxml", "/parts/01 Flöte.musicxml", "parts/02.musicxml", "parts/03.musicxml", "seal.png", "parts/01 Flöte.musicxml"}, names)
	written, err := musicxml.Read(files[0].Data, musicxml.ReadOptions{})
	require.NoError(t, err)
	var links []string
	for _, link := range written.Header.Root().FindElements("part-list/score-part/part-link") {
		text := link.Parent().SelectAttrValue("id", "") + " " + link.SelectAttrValue("xlink:href", "") + " " + link.SelectAttrValue("xlink:title", "")
		for _, in := range link.SelectElements("instrument-link") {
			text += " " + in.SelectAttrValue("id", "")
		}
		links = append(links, text+" "+link.SelectElement("group-link").Text())
	}
	assert.Equal(t, []string{"P1 parts/01%20Fl%C3%B6te.musicxml Flute 1 B parts", "P1 parts/02.musicxml Flutes parts", "P1 parts/03.musicxml Both parts", "P2 parts/03.musicxml Both parts"}, links)
	assert.Equal(t, "http://www.w3.org/1999/xlink", written.Header.Root().SelectAttrValue("xmlns:xlink", ""))
	assert.Equal(t, "4.0", written.Header.Root().SelectAttrValue("version", ""))
}
