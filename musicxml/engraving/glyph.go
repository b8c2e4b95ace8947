package engraving

import "deskpart/musicxml/engraving/fonts"

// glyph is the box of a sign's ink in staff spaces.
type glyph struct {
	left, top, right, bottom float64
}

func (g glyph) width() float64 { return g.right - g.left }

// smallScale is the size of grace notes and cue notes against full size.
const smallScale = 0.7

// shape is a sign at a size.
type shape struct {
	name  string
	small bool
}

func (s shape) scale() float64 {
	if s.small {
		return smallScale
	}
	return 1
}

// isSign reports whether there is a sign of that name.
func isSign(name string) bool {
	_, ok := fonts.SignOf(name)
	return ok
}

// box returns the ink's box around the sign's own place.
func (s shape) box() glyph {
	f, _ := fonts.SignOf(s.name)
	k := s.scale()
	in := func(hundredths int) float64 { return float64(hundredths) / 100 * k }
	return glyph{in(f.Left), in(f.Top), in(f.Right), in(f.Bottom)}
}

func (s shape) width() float64 { return s.box().width() }
