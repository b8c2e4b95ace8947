package engraving

import (
	"math"

	"deskpart/musicxml/engraving/display"
)

// crossSlur draws a slur from one staff to another: of several ways to lay it, the
// one that meets least ink.
func (s *system) crossSlur(k *ink, sl slur, down func(*figure) float64) {
	d, ok := s.slurEnds(sl)
	if !ok || d.from == nil || d.to == nil {
		return
	}
	d.down1, d.down2 = down(d.from), down(d.to)
	ink := s.crossInk(&d, down)
	best, cost := d, math.Inf(1)
	for _, up := range []bool{true, false} {
		if sl.side != SideAuto && up != (sl.side == Above) {
			continue
		}
		for _, way := range d.ways(up) {
			if c := way.meets(ink); c < cost {
				best, cost = way, c
			}
		}
	}
	k.drawSlur(best)
	s.keepArch(&best, down)
}

// ways are the forms that a slur from staff to staff may have on one side: its ends
// outside their notes or beside them, flat or arched.
func (d *slurInk) ways(up bool) []slurInk {
	var list []slurInk
	for _, beside := range [][2]bool{{false, false}, {true, false}, {false, true}} {
		for _, height := range []float64{0.5, 1, 1.8, 3, 4.5, 6.5, 9, 12} {
			way := *d
			way.up = up
			way.y1 = way.end(d.from, d.down1, beside[0])
			way.y2 = way.end(d.to, d.down2, beside[1])
			if beside[0] {
				way.x1 = d.from.x + d.from.dx + d.from.headWidth() + 0.3
			}
			if beside[1] {
				way.x2 = d.to.x + d.to.inkLeft - 0.3
			}
			way.height = way.outward(height)
			list = append(list, way)
		}
	}
	return append(list, d.between(up)...)
}

// between are the forms that keep to the room between the staves: each end on the
// side of the other staff.
func (d *slurInk) between(up bool) []slurInk {
	var list []slurInk
	for _, height := range []float64{0.4, 1.2, 2.4} {
		way := *d
		facing := way
		facing.up = d.from.staff.index > d.to.staff.index
		way.y1 = facing.end(d.from, d.down1, false)
		facing.up = !facing.up
		way.y2 = facing.end(d.to, d.down2, false)
		way.up = up
		way.height = way.outward(height)
		list = append(list, way)
	}
	return list
}

// end is the height of an end: beside the outermost head, or outside the note.
func (d *slurInk) end(f *figure, down float64, beside bool) float64 {
	top, bottom := y(f.highest())+down, y(f.lowest())+down
	head := d.outward(top)
	if !d.up {
		head = d.outward(bottom)
	}
	if beside {
		return d.outward(head)
	}
	out := head + 0.55
	if f.stem && f.up == d.up {
		out = max(out, d.outward(f.tip+down))
	}
	return d.outward(out + slurEnd)
}

// crossInk is the ink of both staves between the ends of a slur, in the system.
func (s *system) crossInk(d *slurInk, down func(*figure) float64) []display.Rect {
	var list []display.Rect
	for _, f := range []*figure{d.from, d.to} {
		s.staves[f.staff.index].items.Walk(func(item display.Item) {
			box := item.Shape.Bounds()
			if stopsSlurs(item.Role) && float64(box.Right) > d.x1-1 && float64(box.Left) < d.x2+1 {
				list = append(list, box.Moved(0, display.Spaces(down(f))))
			}
		})
	}
	return list
}

// meets weighs a slur by the ink it runs through and by its form.
func (d *slurInk) meets(ink []display.Rect) float64 {
	const samples = 32
	bow := d.shape()
	hits := 0
	for i := 1; i < samples; i++ {
		p := bow.At(float64(i) / samples)
		for _, box := range ink {
			if b := box.Grown(0.2); p.X > b.Left && p.X < b.Right && p.Y > b.Top && p.Y < b.Bottom {
				hits++
			}
		}
	}
	return float64(hits) + 0.15*math.Abs(d.height) + 0.05*math.Hypot(d.x2-d.x1, d.y2-d.y1)
}

// arch is a slur from staff to staff, as points from the middle of each staff.
type arch struct {
	staff  int
	points []display.Point
}

// keepArch remembers a slur for the two staves it joins.
func (s *system) keepArch(d *slurInk, down func(*figure) float64) {
	const samples = 40
	for _, f := range []*figure{d.from, d.to} {
		a := arch{staff: f.staff.index}
		for i := range samples + 1 {
			p := d.shape().At(float64(i) / samples)
			p.Y -= display.Spaces(down(f))
			a.points = append(a.points, p)
		}
		s.arches = append(s.arches, a)
	}
}

// reserveArches keeps what stands outside a staff clear of the slurs to and from
// other staves: over an upper staff, under a lower one.
func (s *system) reserveArches(st *staffInk) {
	last := len(s.staves) - 1
	for _, a := range s.reserved {
		if a.staff != st.index {
			continue
		}
		for _, p := range a.points {
			x, height := float64(p.X), float64(p.Y)
			if st.index < last && height < y(bottomLine) || st.index == last && height > y(topLine(st.lines)) {
				st.sky.add(x-0.3, x+0.3, height-0.2, height+0.2)
			}
		}
	}
}

// top and bottom are the edges of a note with its stem.
func (f *figure) top() float64 {
	if f.stem && f.up {
		return min(f.tip, y(f.highest()))
	}
	return y(f.highest())
}

func (f *figure) bottom() float64 {
	if f.stem && !f.up {
		return max(f.tip, y(f.lowest()))
	}
	return y(f.lowest())
}
