package engraving_test

import (
	"cmp"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/notate"
)

// A stroke through a figure goes from corner to corner of its digits, and nothing is
// listed as not drawn.
func TestStrokesThroughFigures(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		figure, text string
		rising       int // −1 falls from left to right, 0 is upright
	}{
		{"<figure-number>6</figure-number><suffix>slash</suffix>", "6", 1},
		{"<figure-number>12</figure-number><suffix>slash</suffix>", "12", 1},
		{"<prefix>back-slash</prefix><figure-number>5</figure-number>", "5", -1},
		{"<figure-number>4</figure-number><suffix>vertical</suffix>", "4", 0},
	} {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromString(`<part><measure number="1"><attributes><divisions>1</divisions></attributes><figured-bass><figure>`+row.figure+
			`</figure></figured-bass><note><pitch><step>C</step><octave>3</octave></pitch><duration>4</duration><type>whole</type></note></measure></part>`))
		m, err := notate.Part(doc.Root(), notate.Options{})
		require.NoError(t, err)
		assert.Empty(t, m.NotDrawn)
		drawing, err := engraving.Draw(m, engraving.Options{})
		require.NoError(t, err)
		var digits display.Rect
		var stroke display.Line
		drawing.Systems[0].Walk(func(item display.Item, _ display.Spaces) {
			switch s := item.Shape.(type) {
			case display.Text:
				if item.Role == display.RoleFigure {
					assert.Equal(t, row.text, s.Text)
					digits = s.Bounds()
				}
			case display.Line:
				if item.Role == display.RoleDiagram {
					stroke = s
				}
			}
		})
		require.Len(t, stroke.Points, 2, row.figure)
		from, to := stroke.Points[0], stroke.Points[1]
		assert.InDelta(t, float64(digits.Left+digits.Right)/2, float64(from.X+to.X)/2, 1e-6, row.figure)
		assert.Equal(t, row.rising, cmp.Compare(from.Y, to.Y)*cmp.Compare(to.X, from.X), row.figure)
		assert.True(t, min(from.Y, to.Y) < digits.Bottom && max(from.Y, to.Y) > digits.Top, row.figure)
	}
}
