package musicxml_test

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
)

const twoSongs = `<?xml version="1.0"?>
<opus xmlns:xlink="http://www.w3.org/1999/xlink"><title>Songs</title>
<!-- in order --><score xlink:href="one/a%20b.musicxml" xlink:title="A"/><opus><score href="c.xml"/></opus><opus-link xlink:href="more.xml"/><score xlink:href="http://elsewhere/d.xml"/></opus>`

func TestRelinkOpus(t *testing.T) {
	t.Parallel()
	var seen []musicxml.OpusScore
	same, err := musicxml.RelinkOpus([]byte(twoSongs), musicxml.ReadOptions{}, func(s musicxml.OpusScore) string {
		seen = append(seen, s)
		return ""
	})
	require.NoError(t, err)
	assert.Equal(t, twoSongs, string(same), "byte for byte")
	assert.Equal(t, []musicxml.OpusScore{{Href: "one/a b.musicxml"}, {Href: "c.xml"}, {Href: "more.xml", Opus: true}}, seen)

	moved, err := musicxml.RelinkOpus([]byte(twoSongs), musicxml.ReadOptions{}, func(s musicxml.OpusScore) string {
		return map[string]string{"c.xml": "two/ü c.mxl"}[s.Href]
	})
	require.NoError(t, err)
	opus, err := musicxml.ReadOpus(moved, musicxml.ReadOptions{})
	require.NoError(t, err)
	assert.Equal(t, []string{"one/a b.musicxml", "two/ü c.mxl", "more.xml"}, []string{opus.Scores[0].Href, opus.Scores[1].Href, opus.Scores[2].Href})
	assert.Contains(t, string(moved), "<!-- in order -->")
}

func TestNewOpus(t *testing.T) {
	t.Parallel()
	scores := []musicxml.OpusScore{{Href: "1 Lento?/score.musicxml", Title: "Lento?"}, {Href: "2/score.musicxml"}}
	opus, err := musicxml.ReadOpus(musicxml.Append(nil, musicxml.NewOpus("Suite & Fugue", scores...), musicxml.NoteALine), musicxml.ReadOptions{})
	require.NoError(t, err)
	assert.Equal(t, "Suite & Fugue", opus.Title)
	assert.Equal(t, scores, opus.Scores)
}

// TestRepack: the list's order is kept, which tells in what order the scores of a file
// without an opus come, and the rest comes along.
func TestRepack(t *testing.T) {
	t.Parallel()
	const score = `<score-partwise version="4.0"><part-list/></score-partwise>`
	var packed bytes.Buffer
	require.NoError(t, musicxml.WriteContainer(&packed, "b.xml", musicxml.File{Name: "b.xml", Data: []byte(score)},
		musicxml.File{Name: "picture.png", Data: []byte{1}}, musicxml.File{Name: "a.xml", MediaType: "application/vnd.recordare.musicxml+xml", Data: []byte(score)}))
	root, files, err := musicxml.Repack(packed.Bytes(), musicxml.ReadOptions{}, map[string][]byte{"a.xml": []byte("new")})
	require.NoError(t, err)
	assert.Equal(t, "b.xml", root)
	var names []string
	for _, f := range files {
		names = append(names, f.Name)
	}
	assert.Equal(t, []string{"b.xml", "a.xml", "picture.png"}, names)
	assert.Equal(t, "new", string(files[1].Data))
	assert.Equal(t, score, string(files[0].Data))
	_, _, err = musicxml.Repack(packed.Bytes(), musicxml.ReadOptions{}, map[string][]byte{"gone.xml": nil})
	assert.ErrorContains(t, err, "gone.xml")
}
