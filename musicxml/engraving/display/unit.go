package display

// Spaces is a length in staff spaces, the distance of two staff lines.
type Spaces float64

// Millimetres is a length on paper.
type Millimetres float64

// Points is a length on paper in the unit of printers, 1/72 inch.
type Points float64

// On is the length on paper where a staff space has this size.
func (s Spaces) On(space Millimetres) Millimetres { return Millimetres(s) * space }

// Points is the length in points: an inch has 72 of them and 25.4 mm.
func (mm Millimetres) Points() Points { return Points(mm) * 72 / 25.4 }

// Point is a place.
type Point struct{ X, Y Spaces }

// Rect is an upright rectangle that bounds ink; Top is less than Bottom.
type Rect struct{ Left, Top, Right, Bottom Spaces }

// Width and Height are the sides.
func (r Rect) Width() Spaces { return r.Right - r.Left }

// Height is the upright side.
func (r Rect) Height() Spaces { return r.Bottom - r.Top }

// Moved is the rectangle at another place.
func (r Rect) Moved(dx, dy Spaces) Rect {
	return Rect{r.Left + dx, r.Top + dy, r.Right + dx, r.Bottom + dy}
}

// Grown is the rectangle with that much added on every side.
func (r Rect) Grown(by Spaces) Rect {
	return Rect{r.Left - by, r.Top - by, r.Right + by, r.Bottom + by}
}

// Union bounds both rectangles.
func (r Rect) Union(o Rect) Rect {
	return Rect{min(r.Left, o.Left), min(r.Top, o.Top), max(r.Right, o.Right), max(r.Bottom, o.Bottom)}
}

// Meets reports whether the two have more than an edge in common.
func (r Rect) Meets(o Rect) bool {
	return r.Left < o.Right && o.Left < r.Right && r.Top < o.Bottom && o.Top < r.Bottom
}

// around bounds points.
func around(points ...Point) Rect {
	r := Rect{points[0].X, points[0].Y, points[0].X, points[0].Y}
	for _, p := range points[1:] {
		r = r.Union(Rect{p.X, p.Y, p.X, p.Y})
	}
	return r
}
