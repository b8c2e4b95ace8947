package display

import (
	"cmp"

	"deskpart/musicxml/engraving/fonts"
)

// Shape is what an item looks like: a Sign, Line, Curve, Wave, Bow, Beam, Box or
// Text.
type Shape interface {
	// Bounds is the rectangle that the ink keeps to.
	Bounds() Rect
}

// Sign is a music sign of package fonts, with its own place at At.
type Sign struct {
	Name string
	At   Point
	// Scale is the size against full size, in both directions unless Tall, the
	// size upwards, differs from it (a brace). Zero is full size.
	Scale, Tall float64
}

// Scales are the factors of width and height.
func (s Sign) Scales() (wide, tall float64) {
	wide = cmp.Or(s.Scale, 1)
	return wide, cmp.Or(s.Tall, wide)
}

// Bounds is the box of the sign's ink.
func (s Sign) Bounds() Rect {
	f, _ := fonts.SignOf(s.Name)
	wide, tall := s.Scales()
	return Rect{Spaces(float64(f.Left) * wide / 100), Spaces(float64(f.Top) * tall / 100),
		Spaces(float64(f.Right) * wide / 100), Spaces(float64(f.Bottom) * tall / 100)}.Moved(s.At.X, s.At.Y)
}

// Line is a stroke from point to point.
type Line struct {
	Points []Point
	// Closed goes back from the last point to the first.
	Closed bool
	// Thickness of the stroke; Dash and Gap are the lengths of a broken line, zero
	// for an unbroken one.
	Thickness, Dash, Gap Spaces
}

// Bounds is the box of the points with half the thickness around them.
func (l Line) Bounds() Rect { return around(l.Points...).Grown(l.Thickness / 2) }

// Curve is a stroke along one quadratic curve (a parenthesis).
type Curve struct {
	From, Control, To Point
	Thickness         Spaces
}

// Bounds is the box of the curve's points, a little too wide.
func (c Curve) Bounds() Rect { return around(c.From, c.Control, c.To).Grown(c.Thickness / 2) }

// Wave is a wavy stroke: half waves of half a space, each a quadratic curve whose
// control point lies Depth aside, first to the right of the direction for a
// positive Depth and to the left for a negative one.
type Wave struct {
	From, To  Point
	Depth     Spaces
	Thickness Spaces
}

// Bounds is the box of the wave.
func (w Wave) Bounds() Rect {
	depth := max(w.Depth, -w.Depth) / 2
	return around(w.From, w.To).Grown(depth + w.Thickness/2)
}

// Bow is a filled curve, thin at its ends: a slur or a tie. Height is that of the
// control points over the line from end to end, negative upwards.
type Bow struct {
	From, To          Point
	Height, Thickness Spaces
}

// Controls are the control points of the two cubic curves that bound the bow:
// outer from From to To, inner back from To to From.
func (b Bow) Controls() (outer, inner [2]Point) {
	inset := min((b.To.X-b.From.X)*0.28, 3)
	thickness := b.Thickness
	if b.Height < 0 {
		thickness = -thickness
	}
	far, near := b.Height+thickness/2, b.Height-thickness/2
	outer = [2]Point{{b.From.X + inset, b.From.Y + far}, {b.To.X - inset, b.To.Y + far}}
	inner = [2]Point{{b.To.X - inset, b.To.Y + near}, {b.From.X + inset, b.From.Y + near}}
	return outer, inner
}

// At is the middle of the bow's stroke at a share of its length from 0 to 1, by
// the curve's own parameter.
func (b Bow) At(t float64) Point {
	outer, inner := b.Controls()
	c1 := Point{(outer[0].X + inner[1].X) / 2, (outer[0].Y + inner[1].Y) / 2}
	c2 := Point{(outer[1].X + inner[0].X) / 2, (outer[1].Y + inner[0].Y) / 2}
	k := [4]Spaces{Spaces((1 - t) * (1 - t) * (1 - t)), Spaces(3 * t * (1 - t) * (1 - t)), Spaces(3 * t * t * (1 - t)), Spaces(t * t * t)}
	return Point{k[0]*b.From.X + k[1]*c1.X + k[2]*c2.X + k[3]*b.To.X, k[0]*b.From.Y + k[1]*c1.Y + k[2]*c2.Y + k[3]*b.To.Y}
}

// Bounds is the box of the bow: a cubic curve reaches three quarters of its
// control points' height.
func (b Bow) Bounds() Rect {
	box := around(b.From, b.To)
	for i := 1; i < 8; i++ {
		p := b.At(float64(i) / 8)
		box = box.Union(Rect{p.X, p.Y, p.X, p.Y}.Grown(b.Thickness * 3 / 8))
	}
	return box
}

// Beam is a filled figure with upright sides: Left and Right are its upper
// corners.
type Beam struct {
	Left, Right Point
	Thickness   Spaces
}

// Bounds is the box of the beam.
func (b Beam) Bounds() Rect {
	box := around(b.Left, b.Right)
	box.Bottom += b.Thickness
	return box
}

// Box is a filled upright rectangle.
type Box struct{ Rect }

// Bounds is the rectangle.
func (b Box) Bounds() Rect { return b.Rect }

// Anchor says which end of a text stands at its place.
type Anchor uint8

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// Text is a line of letters on a baseline.
type Text struct {
	Text   string
	At     Point
	Anchor Anchor
	Face   fonts.Face
	// Size of the type: the em, in staff spaces.
	Size Spaces
	// Small says that the size is not that of the text's role.
	Small bool
	// Halo is the width of a border in the colour of the paper around the letters,
	// which breaks lines behind them (frets); default none.
	Halo Spaces
}

// Width is the text's length.
func (t Text) Width() Spaces { return Spaces(t.Face.Width(t.Text)) * t.Size }

// Left is the x of the text's beginning.
func (t Text) Left() Spaces {
	switch t.Anchor {
	case Middle:
		return t.At.X - t.Width()/2
	case End:
		return t.At.X - t.Width()
	}
	return t.At.X
}

// The heights of letters in ems: tall letters and descenders of the text family.
const (
	ascent  = 0.76
	descent = 0.24
)

// Bounds is the box of tall letters and descenders along the text.
func (t Text) Bounds() Rect {
	left := t.Left()
	return Rect{left, t.At.Y - ascent*t.Size, left + t.Width(), t.At.Y + descent*t.Size}
}
