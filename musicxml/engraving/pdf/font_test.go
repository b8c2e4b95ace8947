package pdf

import (
	"maps"
	"slices"
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
	o, err := readSigns()
	require.NoError(t, err)
	// The library wants tables that an embedded font may lack (ISO 32000-1, table
	// 126), so it is given the outlines' own numbers to compare with.
	for _, name := range []string{"clef-g", "head-black", "sharp", "brace", "rest-quarter", "fermata-above"} {
		sign, known := fonts.SignOf(name)
		require.True(t, known)
		glyph := o.outlines.glyphs[o.glyphs[o.codes[name]]]
		assert.GreaterOrEqual(t, signed(glyph[2:]), sign.Left-1, name)
		assert.LessOrEqual(t, signed(glyph[6:]), sign.Right+1, name)
		assert.GreaterOrEqual(t, signed(glyph[4:]), -sign.Bottom-40, "%s: control points may lie outside the ink", name)
		assert.Equal(t, sign.Text, o.texts[o.codes[name]])
	}
	assert.Zero(t, checksum(o.fontFile())-0xB1B0AFBA, "the sum of the whole file (ISO 14496-22, head)")
}

// Glyphs cut out of a face keep their advances, as a general library reads them
// from the whole face.
func TestCutDown(t *testing.T) {
	t.Parallel()
	font, err := sfnt.Parse(fonts.Regular.Data())
	require.NoError(t, err)
	table, err := readFace(fonts.Regular)
	require.NoError(t, err)
	var buffer sfnt.Buffer
	codes := codeSet{}
	text := "Áé ñÅß"
	for _, r := range text {
		codes[table.codes[string(r)]] = true
	}
	small := table.cutDown(slices.Sorted(maps.Keys(codes)))
	for _, r := range text {
		g, err := font.GlyphIndex(&buffer, r)
		require.NoError(t, err)
		advance, err := font.GlyphAdvance(&buffer, g, fixed.Int26_6(table.unitsPerEm), 0)
		require.NoError(t, err)
		code := table.codes[string(r)]
		assert.Equal(t, int(advance), small.advances[code])
		components(small.glyphs[code], func(at int) {
			part := int(small.glyphs[code][at])<<8 | int(small.glyphs[code][at+1])
			require.Less(t, part, len(small.glyphs), "components are there")
			assert.NotEmpty(t, small.glyphs[part])
		})
	}
	assert.Empty(t, small.glyphs[table.codes["A"]], "a letter that is not used")
	two := &outlines{unitsPerEm: 2000, advances: []int{0, 1000, 1445, 0, 20}}
	assert.Equal(t, "1 [500 722.5] 4 [10]", two.widths([]uint16{1, 2, 4}))
}

func FuzzReadOutlines(f *testing.F) {
	f.Add(fonts.Music.Data())
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, data []byte) {
		if o, err := readOutlines(data); err == nil && len(o.glyphs) > 0 {
			table := newTable(o)
			table.add("a", "a", len(o.glyphs)-1)
			table.cutDown([]uint16{1}).fontFile()
		}
	})
}

// A glyph that ends before its contours do counts for none of them (ISO 14496-22, glyf: ten
// bytes of head, then the last point of each contour).
func TestGlyphCutShort(t *testing.T) {
	t.Parallel()
	o := &outlines{unitsPerEm: 1000}
	o.add([]byte{0, 2, 0, 0, 0, 0, 0, 0, 0, 0, 0, 3, 0, 6}, 500, 0)
	o.add([]byte{0, 9, 0, 0, 0, 0, 0, 0, 0, 0, 0, 3}, 500, 0)
	assert.Equal(t, words(1, 0, 2, 7, 2), o.maxp()[:10], "points and contours of the whole one")
	assert.NotEmpty(t, o.fontFile())
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
