package paper

import (
	"math"

	"deskpart/musicxml/engraving/display"
)

// profile is how far a line's ink reaches over the upper line of its first staff
// and below the lowest of its last, and the height of all its staves.
type profile struct {
	rises, staves, hangs display.Spaces
	joined               bool // there are several staves
	// upper and lower have the same for every slice of the line's width.
	upper, lower []float32
}

// slice is the width of a slice.
const slice display.Spaces = 2

// leastAir is kept free between the ink of two lines, easyAir where the page has room
// (common practice, no source).
const (
	leastAir display.Spaces = 0.8
	easyAir  display.Spaces = 2.2
)

// silentLine is what stands for a movement in which the player is silent.
var silentLine = profile{staves: tacetHeight}

// distance is the least height from one line's staves to the next's that keeps so much
// air between their ink.
func (o *profile) distance(next *profile, air display.Spaces) display.Spaces {
	least := float32(0)
	upper := next.upper
	for i, below := range o.lower {
		if i == len(upper) {
			break
		}
		least = max(least, below+upper[i])
	}
	return display.Spaces(least) + air
}

// topOf is how far below a system's upper edge its first staff begins.
func topOf(system *display.System) display.Spaces {
	first := &system.Staves[0]
	return first.Y + 2 - display.Spaces(max(1, first.Lines)-1)
}

// profileOf measures a line that was drawn. Each piece of ink counts a slice to
// both sides, so that lines do not reach into one another's gaps.
func profileOf(system *display.System) *profile {
	top, foot := topOf(system), system.Staves[len(system.Staves)-1].Y+2
	n := int(math.Ceil(float64(system.Width/slice))) + 1
	o := &profile{staves: foot - top, joined: len(system.Staves) > 1, upper: make([]float32, n), lower: make([]float32, n)}
	system.Walk(func(item display.Item, down display.Spaces) {
		box := item.Shape.Bounds()
		over, under := top-(box.Top+down), box.Bottom+down-foot
		if over <= 0 && under <= 0 {
			return
		}
		o.rises, o.hangs = max(o.rises, over), max(o.hangs, under)
		from, to := max(0, int(box.Left/slice)-1), min(int(box.Right/slice)+1, n-1)
		for i := from; i <= to; i++ {
			o.upper[i], o.lower[i] = max(o.upper[i], float32(over)), max(o.lower[i], float32(under))
		}
	})
	return o
}
