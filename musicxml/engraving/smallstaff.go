package engraving

import (
	"cmp"
	"slices"
	"sort"

	"deskpart/musicxml/engraving/display"
)

// A small staff (an ossia, cues) is drawn in full size and then drawn together: up and
// down towards its middle line, and sideways what belongs to a moment towards the place
// of that moment, so that notes of all staves keep standing above one another.

// sizesOfStaves are the sizes of the staves against full size. A staff that shares beams, slurs or
// lines with another is of full size.
func (l *Layout) sizesOfStaves() []float64 {
	sizes := make([]float64, len(l.music.Staves))
	for i := range sizes {
		st := &l.music.Staves[i]
		sizes[i] = min(1, cmp.Or(st.Size, 1))
		if slices.ContainsFunc(st.Measures, func(m Measure) bool {
			return slices.ContainsFunc(m.Voices, func(v Voice) bool { return v.ID != "" })
		}) {
			sizes[i] = 1
		}
	}
	for _, s := range slices.Concat(l.slurs, l.slides) {
		if s.crosses() {
			sizes[s.fromStaff], sizes[s.toStaff] = 1, 1
		}
	}
	return sizes
}

// pin says where a place of the full size comes to stand.
type pin struct{ from, to float64 }

// drawnTogether is a staff being made small: the places along it, and its size.
type drawnTogether struct {
	pins []pin
	size float64
}

// drawTogether makes a staff small.
func (s *system) drawTogether(st *staffInk, size float64) {
	d := drawnTogether{size: size}
	x := s.indent
	for _, column := range s.head {
		if w := widest(column); w > 0 {
			x += signGap * 0.75
			d.pin(x, x, x+w)
			x += w
		}
	}
	for _, p := range s.bars {
		for _, c := range p.columns {
			if cell := &c.cells[st.index]; cell.filled {
				d.pin(c.x+cell.left, c.x, c.x+cell.right)
			}
		}
		for _, f := range p.centered {
			if f.staff.index == st.index {
				half := f.rest.shape.width() / 2
				d.pin(f.x, f.x+half, f.x+2*half)
			}
		}
		d.pins = append(d.pins, pin{p.end, p.end})
	}
	sort.SliceStable(d.pins, func(i, j int) bool { return d.pins[i].from < d.pins[j].from })
	st.items = d.list(st.items)
	k := st.sky
	k.top, k.bottom = k.top*size, k.bottom*size
	for i := range k.up {
		k.up[i], k.down[i] = k.up[i]*size, k.down[i]*size
	}
	st.size = size
}

// pin draws what lies between two places together towards a third.
func (d *drawnTogether) pin(left, at, right float64) {
	d.pins = append(d.pins, pin{left, at + (left-at)*d.size}, pin{right, at + (right-at)*d.size})
}

func (d *drawnTogether) x(x display.Spaces) display.Spaces {
	i := sort.Search(len(d.pins), func(i int) bool { return d.pins[i].from > float64(x) })
	switch {
	case i == 0:
		return x
	case i == len(d.pins):
		return x + display.Spaces(d.pins[i-1].to-d.pins[i-1].from)
	}
	a, b := d.pins[i-1], d.pins[i]
	return display.Spaces(a.to + (b.to-a.to)*(float64(x)-a.from)/(b.from-a.from))
}

func (d *drawnTogether) point(p display.Point) display.Point {
	return display.Point{X: d.x(p.X), Y: d.length(p.Y)}
}

func (d *drawnTogether) length(l display.Spaces) display.Spaces { return l * display.Spaces(d.size) }

func (d *drawnTogether) list(list display.List) display.List {
	small := make(display.List, len(list))
	for i, item := range list {
		small[i], small[i].Shape = item, d.shape(item.Shape)
	}
	return small
}

// shape is the shape in small; strokes keep their thickness.
func (d *drawnTogether) shape(shape display.Shape) display.Shape {
	switch s := shape.(type) {
	case display.Group:
		s.Items = d.list(s.Items)
		return s
	case display.Sign:
		left := s.Bounds().Left
		s.At = display.Point{X: d.x(left) + d.length(s.At.X-left), Y: d.length(s.At.Y)}
		s.Scale = cmp.Or(s.Scale, 1) * d.size
		s.Tall *= d.size
		return s
	case display.Text:
		s.At, s.Size, s.Small = d.point(s.At), d.length(s.Size), true
		return s
	case display.Line:
		points := make([]display.Point, len(s.Points))
		for i, p := range s.Points {
			points[i] = d.point(p)
		}
		s.Points = points
		return s
	case display.Curve:
		s.From, s.Control, s.To = d.point(s.From), d.point(s.Control), d.point(s.To)
		return s
	case display.Wave:
		s.From, s.To, s.Depth = d.point(s.From), d.point(s.To), d.length(s.Depth)
		return s
	case display.Bow:
		s.From, s.To, s.Height, s.Thickness = d.point(s.From), d.point(s.To), d.length(s.Height), d.length(s.Thickness)
		return s
	case display.Beam:
		s.Left, s.Right, s.Thickness = d.point(s.Left), d.point(s.Right), d.length(s.Thickness)
		return s
	case display.Box:
		s.Left, s.Right, s.Top, s.Bottom = d.x(s.Left), d.x(s.Right), d.length(s.Top), d.length(s.Bottom)
		return s
	}
	return shape
}
