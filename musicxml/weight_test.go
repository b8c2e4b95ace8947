package musicxml

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Counted by hand. What stands in comments, CDATA sections and values is no tag.
func TestWeight(t *testing.T) {
	t.Parallel()
	const one = `<measure number="1"><note><rest/><duration>4</duration></note><notes/><direction/></measure>`
	for _, c := range []struct {
		name, text string
		want       []Weight
	}{
		{"partwise", `<score-partwise><part-list/><part id="A">` + one + one + `</part><part id="B"><measure/></part></score-partwise>`,
			[]Weight{{12, 2, 2}, {1, 0, 1}}},
		{"asides", `<score-partwise><part-list/><part id="A"><!-- <note> --><![CDATA[<measure>]]><?x <note> ?><measure a="&lt;note>"/></part></score-partwise>`,
			[]Weight{{1, 0, 1}}},
		{"timewise", `<score-timewise><part-list/><measure number="1"><part id="A"><note><rest/></note></part><part id="B"/></measure><measure number="2"><part id="B"><note/></part></measure></score-timewise>`,
			[]Weight{{4, 1, 2}, {3, 1, 2}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			score, err := Read([]byte(c.text), ReadOptions{})
			require.NoError(t, err)
			var got []Weight
			var all Weight
			for _, p := range score.Parts {
				got = append(got, p.Weight())
				all = all.plus(p.Weight())
			}
			assert.Equal(t, c.want, got)
			assert.Equal(t, all, score.Weight())
			if !score.Timewise {
				assert.Equal(t, len(c.text), score.TextBytes())
			}
		})
	}
}

func TestUnpackedBytes(t *testing.T) {
	t.Parallel()
	var packed bytes.Buffer
	require.NoError(t, WriteContainer(&packed, "a.musicxml", File{Name: "a.musicxml", Data: make([]byte, 100_000)}))
	assert.Greater(t, UnpackedBytes(packed.Bytes()), int64(100_000+packed.Len()))
	assert.Less(t, UnpackedBytes(packed.Bytes()), int64(101_000+packed.Len()))
	assert.EqualValues(t, 5, UnpackedBytes([]byte("plain")))
	assert.Equal(t, UnpackedBytes(packed.Bytes())+100_000, ReadingBytes(packed.Bytes()), "the score in it may be timewise")
	assert.EqualValues(t, 5, ReadingBytes([]byte("plain")))
	assert.EqualValues(t, 2*len("<score-timewise>"), ReadingBytes([]byte("<score-timewise>")), "bar by bar and part by part")
	assert.EqualValues(t, 4, UnpackedBytes([]byte("PK\x03\x04")), "damaged: Read says so")
}
