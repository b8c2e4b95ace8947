package fonts_test

import (
	"os"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/sfnt"

	"deskpart/musicxml/engraving/fonts"
)

var faces = []fonts.Face{fonts.Regular, fonts.Italic, fonts.Bold, fonts.BoldItalic, fonts.Music}

// The widths of the well-known serif whose metrics the family follows, in
// thousandths of an em (from memory, as in the metrics files of PostScript's
// Times: A 722, m 778, e 444, space 250, zero 500; italic A 611; bold A 722,
// m 833; bold italic A 667).
func TestWidthsAreThoseOfTheUsualSerif(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		face fonts.Face
		text string
		want float64
	}{
		{fonts.Regular, "A", 722}, {fonts.Regular, "m", 778}, {fonts.Regular, "é", 444}, {fonts.Regular, " ", 250}, {fonts.Regular, "0", 500},
		{fonts.Italic, "A", 611}, {fonts.Bold, "A", 722}, {fonts.Bold, "m", 833}, {fonts.BoldItalic, "A", 667},
		{fonts.Regular, "Am é0", 722 + 778 + 250 + 444 + 500}, {fonts.Regular, "", 0},
	} {
		assert.InDelta(t, row.want/1000, row.face.Width(row.text), 0.001*float64(len(row.text)+1), "%d %q", row.face, row.text)
	}
}

// Every face is a font, and every face of the text family has what names of
// people and pieces need: Latin with its accents, Greek, Cyrillic.
func TestFaces(t *testing.T) {
	t.Parallel()
	for _, face := range faces {
		_, err := sfnt.Parse(face.Data())
		require.NoError(t, err)
	}
	for _, face := range faces[:4] {
		for r := rune(0x20); r < 0x460; r++ {
			if unicode.IsLetter(r) && (r < 0x250 || r >= 0x391 && r <= 0x3CE || r >= 0x400) {
				assert.True(t, face.Has(r), "face %d, U+%04X %c", face, r, r)
			}
		}
		for _, r := range "„“”‘’–—…€№½→°×ẽỹ" {
			assert.True(t, face.Has(r), "face %d, U+%04X %c", face, r, r)
		}
	}
}

// Signs among letters come from the music font; what no face has is told.
func TestRuns(t *testing.T) {
	t.Parallel()
	assert.Equal(t, []fonts.Run{{fonts.Bold, "B"}, {fonts.Music, "♭"}, {fonts.Bold, "m7"}, {fonts.Music, "♭"}, {fonts.Bold, "5"}}, fonts.Bold.Runs("B♭m7♭5"))
	assert.Equal(t, []fonts.Run{{fonts.Music, "♯"}}, fonts.Regular.Runs("♯"))
	assert.Empty(t, fonts.Regular.Runs(""))
	assert.Equal(t, []rune("楽譜"), fonts.Regular.Missing("B♭ 楽譜 楽"))
	assert.Empty(t, fonts.Regular.Missing("Ad libitum, dolce ma non troppo ♩"))
}

// What a text tool reads for each sign: the characters as The Unicode Standard
// names them in the Musical Symbols block, read there by hand.
func TestSignsHaveTheirUnicode(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]string{
		"clef-g": "\U0001D11E", "clef-f": "\U0001D122", "clef-c": "\U0001D121", "head-black": "\U0001D158", "head-half": "\U0001D157",
		"head-whole": "\U0001D15D", "rest-whole": "\U0001D13B", "rest-half": "\U0001D13C", "rest-quarter": "\U0001D13D", "rest-eighth": "\U0001D13E",
		"sharp": "♯", "flat": "♭", "natural": "♮", "double-sharp": "\U0001D12A", "flat-flat": "\U0001D12B", "fermata-above": "\U0001D110",
		"dynamic-p": "\U0001D18F", "dynamic-f": "\U0001D191", "trill": "\U0001D196", "numeral-4": "4", "segno": "\U0001D10B", "coda": "\U0001D10C",
		"flag-eighth-up": "\U0001D16E", "flag-16th-down": "\U0001D16F", "pedal": "\U0001D1AE", "time-common": "\U0001D134", "dot": "\U0001D16D",
	} {
		sign, known := fonts.SignOf(name)
		require.True(t, known, name)
		assert.Equal(t, want, sign.Text, name)
		assert.Less(t, sign.Left, sign.Right, name)
		assert.Less(t, sign.Top, sign.Bottom, name)
		assert.NotEmpty(t, sign.Path, name)
	}
	_, known := fonts.SignOf("no such sign")
	assert.False(t, known)
}

// The licence of the fonts stands beside them.
func TestLicenceOfTheFonts(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("OFL.txt")
	require.NoError(t, err)
	assert.Contains(t, string(text), "SIL OPEN FONT LICENSE Version 1.1")
	assert.Contains(t, string(text), "Reserved Font Name")
}
