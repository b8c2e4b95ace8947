package pages

import (
	"html/template"

	"deskpart/musicxml/engraving"
)

// Figure is music drawn twice: as wide as paper, and narrow enough for a telephone.
// The page's style shows the one that fits its window; paper has the wide one.
type Figure struct{ Wide, Narrow *engraving.Drawing }

// The width of a line on a telephone, in staff spaces, and the size of a space in
// millimetres: 88 mm are the 332 pixels that a window of 360 leaves.
const narrowWidth, narrowSpace = 40, 2.2

// Draw draws music in both widths.
func Draw(m *engraving.Music, o engraving.Options) (Figure, error) {
	wide, err := engraving.Draw(m, o)
	if err != nil {
		return Figure{}, err
	}
	o.Width, o.Space, o.Justify = narrowWidth, narrowSpace, false
	narrow, err := engraving.Draw(m, o)
	return Figure{wide, narrow}, err
}

// HTML is both drawings.
func (f Figure) HTML() template.HTML {
	return template.HTML("<div class=\"wide\">\n" + f.Wide.Figures() + "</div>\n<div class=\"narrow\">\n" + f.Narrow.Figures() + "</div>\n") // drawn by our own engraver
}

// Drawings are both, for the page's glyphs.
func (f Figure) Drawings() []*engraving.Drawing { return []*engraving.Drawing{f.Wide, f.Narrow} }
