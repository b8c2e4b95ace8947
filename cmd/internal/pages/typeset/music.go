package typeset

import (
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/display"
)

// Music sets the systems of a drawing, in the size that they were drawn for, or as large
// as the line allows.
func (s *Setter) Music(d *engraving.Drawing) {
	for i := range d.Systems {
		system := &d.Systems[i]
		space := system.Space
		if widest := display.Millimetres(s.width) / display.Millimetres(system.Width); space > widest {
			space = widest
		}
		s.add(piece{block: display.Block{Purpose: display.Music, Space: space, System: system}, height: display.Spaces(system.Height.On(space)), before: s.size * 0.5})
	}
}
