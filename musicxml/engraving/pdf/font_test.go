package pdf

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"deskpart/musicxml/engraving/fonts"
)

// The path grammar by hand: a square with a corner rounded by a quadratic curve.
func TestReadPath(t *testing.T) {
	t.Parallel()
	contours, err := readPath("m10-20h30v10q0 10-10 10l-20 0zm1 1 2 2z")
	require.NoError(t, err)
	require.Len(t, contours, 2)
	assert.Equal(t, []contourPoint{{10, 20, true}, {40, 20, true}, {40, 10, true}, {40, 0, false}, {30, 0, true}, {10, 0, true}}, contours[0])
	assert.Equal(t, []contourPoint{{11, 19, true}, {13, 17, true}}, contours[1], "after z the point is the contour's first; pairs after a move are lines")
	for _, bad := range []string{"h10", "m1", "m0 0c1 2 3 4 5 6", "m0 0l1", "m0 0l1.5 2", "m0 0z1"} {
		_, err := readPath(bad)
		assert.Error(t, err, bad)
	}
}

// Every sign is a glyph that a general font library reads back with the sign's own
// box: widths as in signs.csv.
func TestSignsAsGlyphs(t *testing.T) {
	t.Parallel()
	names := []string{""}
	for _, name := range []string{"clef-g", "head-black", "sharp", "brace", "rest-quarter", "fermata-above"} {
		names = append(names, name)
	}
	o, err := signOutlines(names)
	require.NoError(t, err)
	// The library wants tables that an embedded font may lack (ISO 32000-1, table
	// 126), so it is given the outlines' own numbers to compare with.
	for i, name := range names[1:] {
		sign, known := fonts.SignOf(name)
		require.True(t, known)
		glyph := o.glyphs[i+1]
		assert.GreaterOrEqual(t, signed(glyph[2:]), sign.Left-1, name)
		assert.LessOrEqual(t, signed(glyph[6:]), sign.Right+1, name)
		assert.GreaterOrEqual(t, signed(glyph[4:]), -sign.Bottom-40, "%s: control points may lie outside the ink", name)
	}
	assert.Zero(t, checksum(o.fontFile())-0xB1B0AFBA, "the sum of the whole file (ISO 14496-22, head)")
}

// Glyphs cut out of a face keep their advances, as a general library reads them
// from the whole face.
func TestCutDown(t *testing.T) {
	t.Parallel()
	data := fonts.Regular.Data()
	font, err := sfnt.Parse(data)
	require.NoError(t, err)
	all, err := readOutlines(data)
	require.NoError(t, err)
	var buffer sfnt.Buffer
	keep := []int{0}
	text := "Áé ñÅß"
	for _, r := range text {
		g, err := font.GlyphIndex(&buffer, r)
		require.NoError(t, err)
		keep = append(keep, int(g))
	}
	small := all.cutDown(keep)
	require.GreaterOrEqual(t, len(small.glyphs), len(keep))
	for i, g := range keep {
		advance, err := font.GlyphAdvance(&buffer, sfnt.GlyphIndex(g), fixed.Int26_6(all.unitsPerEm), 0)
		require.NoError(t, err)
		assert.Equal(t, int(advance), small.advances[i])
		components(small.glyphs[i], func(at int) {
			assert.Less(t, int(small.glyphs[i][at])<<8|int(small.glyphs[i][at+1]), len(small.glyphs), "components are there")
		})
	}
}

func FuzzReadOutlines(f *testing.F) {
	f.Add(fonts.Music.Data())
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, data []byte) {
		if o, err := readOutlines(data); err == nil && len(o.glyphs) > 0 {
			o.cutDown([]int{0}).fontFile()
		}
	})
}

func FuzzReadPath(f *testing.F) {
	f.Add("m10-20h30v10q0 10-10 10l-20 0z")
	f.Fuzz(func(t *testing.T, path string) {
		contours, err := readPath(path)
		if err == nil {
			encodeGlyph(contours)
		}
	})
}

// Values by ISO 32000-1, 7.3.5 and 7.9.2.2.
func TestNamesAndTexts(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "/A#20B#23#28", name("A B#("))
	assert.Equal(t, `(a\(b\)\\)`, textString(`a(b)\`))
	assert.Equal(t, "<FEFF00E4266D>", textString("ä♭"))
	assert.Equal(t, "<FEFFD834DD1E>", textString("𝄞"))
	for _, row := range []struct {
		value    float64
		decimals int
		want     string
	}{{1.5, 2, "1.5"}, {-0.001, 2, "0"}, {100, 0, "100"}, {12.346, 2, "12.35"}, {-3, 3, "-3"}} {
		assert.Equal(t, row.want, number(row.value, row.decimals))
	}
}

func FuzzTextString(f *testing.F) {
	f.Add("Horn (in F)\\")
	f.Fuzz(func(t *testing.T, text string) {
		said := textString(text)
		if strings.HasPrefix(said, "(") {
			assert.Equal(t, text, strings.NewReplacer(`\\`, `\`, `\(`, "(", `\)`, ")").Replace(said[1:len(said)-1]))
		}
	})
}
