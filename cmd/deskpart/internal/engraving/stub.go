package engraving

import "github.com/beevik/etree"

// Draw lays the music out and draws all lines.
func Draw(m *Music, o Options) (*Drawing, error) { return &Drawing{}, nil }

// SVG returns all lines as one stand-alone SVG document.
func (d *Drawing) SVG() string { return "" }

// Figures returns the <svg> elements of all lines for an HTML page that has
// Definitions and Style.
func (d *Drawing) Figures() string { return "" }

// Definitions returns one hidden <svg> element with the glyphs that these
// drawings use; it stands once on a page.
func Definitions(drawings ...*Drawing) string { return "" }

// Style is the style sheet of the drawings: colours follow the text colour.
const Style = ""

// FromPart fills the drawing's model from a <part> of a partwise document.
func FromPart(part *etree.Element, o PartOptions) (*Music, error) { return &Music{}, nil }

// PartOptions say what of a part is taken.
type PartOptions struct {
	// Name and Short label the staff; default none.
	Name, Short string
}

// Beam beams the notes of all voices that have no beams, by the time signature.
func (m *Music) Beam() {}
