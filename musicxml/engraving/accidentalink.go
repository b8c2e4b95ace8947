package engraving

import (
	"cmp"
	"sort"

	"deskpart/musicxml/engraving/display"
)

// accidentalInk is an accidental at its place left of the heads.
type accidentalInk struct {
	owner display.Owner
	sign  *Accidental
	shape shape
	// dx is the left edge of all its ink, dy the height of its note.
	dx, y float64
	headX float64
	class string
}

// fence is the width of one parenthesis or bracket with its air.
const fence = 0.5

func (a accidentalInk) fenced() bool { return a.sign.Parentheses || a.sign.Brackets }

func (a accidentalInk) width() float64 {
	if a.fenced() {
		return a.shape.width() + 2*fence
	}
	return a.shape.width()
}

// glyphX is the left edge of the sign itself.
func (a accidentalInk) glyphX() float64 {
	if a.fenced() {
		return a.dx + fence
	}
	return a.dx
}

// top and bottom bound the ink, a little inside its true edge: signs may nearly
// touch above one another.
func (a accidentalInk) top() float64    { return a.y + a.shape.box().top + 0.12 }
func (a accidentalInk) bottom() float64 { return a.y + a.shape.box().bottom - 0.12 }

func (a accidentalInk) overlaps(b accidentalInk) bool {
	return a.top() < b.bottom() && b.top() < a.bottom() && a.dx < b.dx+b.width()+0.15 && b.dx < a.dx+a.width()+0.15
}

// arrangeAccidentals places the accidentals of all figures of a column left of
// the heads: the outermost notes first, each as near to the heads as it can stand
// without touching a head or another sign.
func arrangeAccidentals(figures []*figure) []accidentalInk {
	waiting := collectAccidentals(figures)
	var placed []accidentalInk
	for _, a := range outermostFirst(waiting) {
		a.dx = headEdge(figures, a) - a.width() - 0.22
		for moved := true; moved; {
			moved = false
			for _, other := range placed {
				if a.overlaps(other) {
					a.dx, moved = other.dx-a.width()-0.16, true
				}
			}
		}
		placed = append(placed, a)
	}
	return placed
}

// signAt is an accidental on a line or space.
type signAt struct {
	sign     string
	position int
}

func collectAccidentals(figures []*figure) []accidentalInk {
	var list []accidentalInk
	seen := map[signAt]bool{}
	for _, f := range figures {
		for i := range f.heads {
			h := &f.heads[i]
			a := cmp.Or(h.note.Accidental, h.restated)
			if a == nil || h.note.Hidden || h.fret != "" || f.event.Hidden || !isSign(a.Sign) {
				continue
			}
			// A unison of two voices needs its sign once.
			key := signAt{a.Sign, h.position}
			if !seen[key] {
				seen[key] = true
				owner := f.owner
				owner.Note = h.number
				list = append(list, accidentalInk{owner: owner, sign: a, shape: shape{a.Sign, a.Small || f.small()}, y: y(h.position), headX: f.dx + h.dx, class: h.note.Class})
			}
		}
	}
	// Of two signs for one line, the one for the head on the right is placed first
	// and so nearer: the signs stand in the order of their heads.
	sort.SliceStable(list, func(i, j int) bool {
		if list[i].y != list[j].y {
			return list[i].y < list[j].y
		}
		return list[i].headX > list[j].headX
	})
	return list
}

// outermostFirst orders signs from both ends of the chord towards its middle.
func outermostFirst(list []accidentalInk) []accidentalInk {
	ordered := make([]accidentalInk, 0, len(list))
	for i, j := 0, len(list)-1; i <= j; i, j = i+1, j-1 {
		ordered = append(ordered, list[i])
		if i < j {
			ordered = append(ordered, list[j])
		}
	}
	return ordered
}

// headEdge is the left edge of the heads and stems beside an accidental.
func headEdge(figures []*figure, a accidentalInk) float64 {
	edge, box := 0.0, a.shape.box()
	for _, f := range figures {
		for _, h := range f.heads {
			if height := y(h.position); a.y+box.top < height+0.55 && height-0.55 < a.y+box.bottom {
				edge = min(edge, f.dx+h.dx)
			}
		}
		if len(f.heads) > 0 {
			edge = min(edge, f.dx)
		}
	}
	return edge
}

// drawAccidental draws one accidental of a column at x.
func drawAccidental(k *ink, a accidentalInk, x float64) {
	gx := x + a.glyphX()
	k.sign(display.RoleAccidental, a.shape, gx-a.shape.box().left, a.y, a.class)
	if !a.fenced() {
		return
	}
	left, right := x+a.dx+0.36, gx+a.shape.width()+0.14
	box := a.shape.box()
	middle := a.y + (box.top+box.bottom)/2
	half := min(1.35, (box.bottom-box.top)/2)
	half = max(half, 0.85) * a.shape.scale()
	if a.sign.Brackets {
		k.squareFence(left, middle, half, 0.22)
		k.squareFence(right, middle, half, -0.22)
		return
	}
	k.fence(display.RoleAccidentalFence, left, middle, half, 0.3)
	k.fence(display.RoleAccidentalFence, right, middle, half, -0.3)
}

func (k *ink) squareFence(x, middle, half, depth float64) {
	edge := x - depth*0.6
	k.line(display.RoleAccidentalFence, x, middle-half, edge, middle-half, edge, middle+half, x, middle+half)
}
