package engraving

import "deskpart/musicxml/engraving/display"

// fallSigns are the lines that lead into a note or away from it, and whether they
// stand before it.
var fallSigns = map[Fall]struct {
	sign   string
	before bool
	// dy is how far the sign's middle lies above the head.
	dy float64
}{
	Scoop: {"scoop", true, -0.7}, Plop: {"plop", true, 0.9}, Doit: {"doit", false, 0.7}, Falloff: {"falloff", false, -0.7},
	Flip: {"flip", false, 0.9}, Smear: {"smear", false, 1.2},
}

// fallGap is the air between a head and such a line.
const fallGap = 0.25

// fallExtent widens the extent of a figure by the lines into it and away from it.
func (f *figure) fallExtent(left, right float64) (l, r float64) {
	for _, fall := range f.event.Falls {
		sign := fallSigns[fall]
		width := shape{name: sign.sign}.width() + fallGap
		if sign.before {
			left -= width
		} else {
			right += width
		}
	}
	return left, right
}

// drawFalls draws the lines into a note and away from it.
func (st *staffInk) drawFalls(f *figure) {
	if len(f.heads) == 0 {
		return
	}
	for _, fall := range f.event.Falls {
		sign := fallSigns[fall]
		sh := shape{name: sign.sign, small: f.small()}
		at := y(f.highest()) - sign.dy
		x := f.x + f.dx + f.headWidth() + fallGap
		for _, d := range f.dots {
			x = max(x, f.x+d.dx+d.shape.width()+fallGap)
		}
		if sign.before {
			x = f.x + f.inkLeft
		}
		st.sign(display.RoleFall, sh, x-sh.box().left, at, "")
		st.sky.glyph(sh, x-sh.box().left, at)
	}
}
