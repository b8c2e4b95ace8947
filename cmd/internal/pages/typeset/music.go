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
		space := min(system.Space, display.Millimetres(s.width/system.Width))
		s.add(piece{block: display.Block{Purpose: display.Music, Space: space, System: system}, height: display.Spaces(system.Height.On(space)), before: s.size * 0.5})
	}
}
