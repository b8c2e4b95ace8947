package engraving_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/musicxmltest"
)

// Every accidental that the standard names can be drawn, except "other", which is
// no sign of its own.
func TestEveryAccidentalOfTheStandardHasAGlyph(t *testing.T) {
	t.Parallel()
	schema, err := os.ReadFile(filepath.Join(musicxmltest.SharedDir(t), "musicxml-4.0", "musicxml.xsd"))
	require.NoError(t, err)
	_, rest, found := strings.Cut(string(schema), `name="accidental-value"`)
	require.True(t, found)
	list, _, _ := strings.Cut(rest, "</xs:simpleType>")
	values := regexp.MustCompile(`enumeration value="([^"]+)"`).FindAllStringSubmatch(list, -1)
	require.Greater(t, len(values), 30)
	glyphs := glyphBoxes(t)
	for _, v := range values {
		if v[1] != "other" {
			assert.Contains(t, glyphs, v[1])
		}
	}
}

// Every sign that an articulation may name is drawn.
func TestEveryArticulationIsDrawn(t *testing.T) {
	t.Parallel()
	for _, sign := range engraving.ArticulationSigns() {
		for _, side := range []engraving.Side{engraving.Above, engraving.Below} {
			e := event(engraving.Whole, 6, 4, 0)
			e.Articulations = []engraving.Articulation{{Sign: sign, Side: side}}
			m := engraving.NewMusic("", engraving.Treble(), engraving.Key{}, treble44)
			m.AddBar(e)
			d, err := engraving.Draw(m, engraving.Options{})
			require.NoError(t, err)
			assert.Contains(t, d.Figures(), "#dp-"+sign, sign)
		}
	}
}

// Each glyph that a drawing refers to is defined once.
func TestUsedGlyphsAreDefined(t *testing.T) {
	t.Parallel()
	for _, row := range goldens {
		d, err := engraving.Draw(row.music(), engraving.Options{})
		require.NoError(t, err)
		definitions := engraving.Definitions(d, d)
		for _, use := range regexp.MustCompile(`href="#([^"]+)"`).FindAllStringSubmatch(d.Figures(), -1) {
			assert.Equal(t, 1, strings.Count(definitions, `id="`+use[1]+`"`), "%s: %s", row.name, use[1])
		}
	}
}
