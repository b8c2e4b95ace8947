package paper

import (
	"math"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/display"
)

// outline is how far a line's ink reaches over the upper line of its first staff
// and below the lowest of its last, and the height of all its staves.
type outline struct {
	rises, staves, hangs display.Spaces
	// upper and lower have the same for every slice of the line's width, once it is
	// drawn; nil before.
	upper, lower []display.Spaces
}

// slice is the width of a slice.
const slice display.Spaces = 1

// air is kept free between the ink of two lines.
const air display.Spaces = 0.8

// meet is the share of both lines' farthest ink that meets at one place, as it is
// guessed before they are drawn.
const meet = 0.7

// silentLine is what stands for a movement in which the player is silent.
var silentLine = outline{staves: tacetHeight}

// usualOutline is what a line is taken for before it is drawn.
func usualOutline(m *engraving.Music) outline {
	staves := 1
	if m != nil {
		staves = max(1, len(m.Staves))
	}
	return outline{rises: 2.5, staves: 4 + 9*display.Spaces(staves-1), hangs: 3}
}

// widen brings a guess up to another's heights.
func (o *outline) widen(by *outline) {
	o.rises, o.staves, o.hangs = max(o.rises, by.rises), max(o.staves, by.staves), max(o.hangs, by.hangs)
}

// learn takes over the heights of a line that was drawn.
func (o *outline) learn(from *outline) {
	o.rises, o.staves, o.hangs = from.rises, from.staves, from.hangs
}

// distance is the least height from one line's staves to the next's.
func (o *outline) distance(next *outline) display.Spaces {
	if o.lower == nil || next.upper == nil {
		return meet*(o.hangs+next.rises) + air
	}
	least := display.Spaces(0)
	for i := range min(len(o.lower), len(next.upper)) {
		least = max(least, o.lower[i]+next.upper[i])
	}
	return least + air
}

// topOf is how far below a system's upper edge its first staff begins.
func topOf(system *display.System) display.Spaces {
	first := &system.Staves[0]
	return first.Y + 2 - display.Spaces(max(1, first.Lines)-1)
}

// outlineOf measures a line that was drawn. Each piece of ink counts a slice to
// both sides, so that lines do not reach into one another's gaps.
func outlineOf(system *display.System) *outline {
	top, foot := topOf(system), system.Staves[len(system.Staves)-1].Y+2
	n := int(math.Ceil(float64(system.Width/slice))) + 1
	o := &outline{staves: foot - top, upper: make([]display.Spaces, n), lower: make([]display.Spaces, n)}
	system.Walk(func(item display.Item, down display.Spaces) {
		box := item.Shape.Bounds()
		over, under := top-(box.Top+down), box.Bottom+down-foot
		if over <= 0 && under <= 0 {
			return
		}
		o.rises, o.hangs = max(o.rises, over), max(o.hangs, under)
		from, to := int(box.Left/slice)-1, int(box.Right/slice)+1
		for i := max(0, from); i <= min(to, n-1); i++ {
			o.upper[i], o.lower[i] = max(o.upper[i], over), max(o.lower[i], under)
		}
	})
	return o
}
