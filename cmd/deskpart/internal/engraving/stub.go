package engraving

import "github.com/beevik/etree"

// FromPart fills the drawing's model from a <part> of a partwise document.
func FromPart(part *etree.Element, o PartOptions) (*Music, error) { return &Music{}, nil }

// PartOptions say what of a part is taken.
type PartOptions struct {
	// Name and Short label the staff; default none.
	Name, Short string
}
