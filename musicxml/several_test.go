package musicxml

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestSeveral: what is a work in one file, and what is a score with more beside it.
func TestSeveral(t *testing.T) {
	t.Parallel()
	list := func(names ...string) string {
		text := `<container><rootfiles>`
		for _, name := range names {
			text += `<rootfile full-path="` + name + `"/>`
		}
		return text + `</rootfiles></container>`
	}
	opus := `<opus version="4.0" xmlns:xlink="http://www.w3.org/1999/xlink"><title>Suite</title><score xlink:href="b.musicxml"/><opus-link xlink:href="more/opus.xml"/></opus>`
	inner := `<opus version="4.0" xmlns:xlink="http://www.w3.org/1999/xlink"><score xlink:href="a.musicxml" xlink:title="Air"/><opus-link xlink:href="opus.xml"/></opus>`
	for _, row := range []struct {
		why  string
		pack []byte
		want []string
	}{
		{"an opus, and one within it that names itself", pack(t, containerList, list("opus.xml"), "opus.xml", opus, "b.musicxml", tinyScore("b"), "more/opus.xml", inner, "more/a.musicxml", tinyScore("a")), []string{"b.musicxml", "more/a.musicxml"}},
		{"two scores in the list", pack(t, containerList, list("2.xml", "1.xml", "x.pdf", "2.xml"), "1.xml", tinyScore("1"), "2.xml", tinyScore("2"), "x.pdf", "%PDF"), []string{"2.xml", "1.xml"}},
		{"one score", pack(t, containerList, list("1.xml"), "1.xml", tinyScore("1"), "other.xml", tinyScore("2")), nil},
		{"no container", []byte(tinyScore("1")), nil},
	} {
		found, err := Several(bytes.NewReader(row.pack), int64(len(row.pack)), ReadOptions{})
		require.NoError(t, err, row.why)
		var names []string
		if found != nil {
			for _, s := range found.Scores {
				names = append(names, s.Href)
				text, err := ReadContained(row.pack, s.Href, ReadOptions{})
				require.NoError(t, err)
				assert.Contains(t, string(text), "score-partwise")
			}
		}
		assert.Equal(t, row.want, names, row.why)
	}
	lacking := pack(t, containerList, list("opus.xml"), "opus.xml", opus)
	_, err := Several(bytes.NewReader(lacking), int64(len(lacking)), ReadOptions{Name: "w.mxl"})
	assert.ErrorContains(t, err, `w.mxl: the opus names "b.musicxml", and it is not there`)
	_, err = ReadContained(pack(t, "a", "b"), "c", ReadOptions{})
	assert.Error(t, err)
}
