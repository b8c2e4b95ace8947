package musicxml

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestReadOpus compares testdata/opus.xml with what it says, worked by hand.
func TestReadOpus(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile("testdata/opus.xml")
	require.NoError(t, err)
	for _, packed := range []bool{false, true} {
		if packed {
			data = pack(t, containerList, listing("opus.xml"), "opus.xml", string(data), "1-march.musicxml", tinyScore("March"))
		}
		assert.True(t, IsOpus(data))
		opus, err := ReadOpus(data, ReadOptions{})
		require.NoError(t, err)
		assert.Equal(t, "Evening Pieces", opus.Title)
		assert.Equal(t, []OpusScore{
			{Href: "1-march.musicxml"},
			{Href: "inner/2 song.mxl", Title: "Song"},
			{Href: "inner/3.xml", Title: "Interlude, Dances"},
			{Href: "more/opus.xml", Opus: true},
		}, opus.Scores)
		assert.Len(t, opus.Warnings, 5, "what leads out of the folder is not followed")
		assert.Equal(t, packed, len(opus.Files) == 1)
		_, err = Read(data, ReadOptions{})
		assert.EqualValues(t, "opus", ErrorCode(err), "a list of scores is not a score")
	}
}

func TestReadOpusRefuses(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ name, why, text, code string }{
		{"score", "a score is no list", tinyScore("x"), "not-opus"},
		{"broken", "not XML", "<opus>", "truncated"},
		{"text", "not XML", "march, song", "not-musicxml"},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			_, err := ReadOpus([]byte(row.text), ReadOptions{Name: "x.xml"})
			assert.EqualValues(t, row.code, ErrorCode(err), row.why)
			assert.Equal(t, row.name == "broken", IsOpus([]byte(row.text)), "told by the root alone")
		})
	}
}
