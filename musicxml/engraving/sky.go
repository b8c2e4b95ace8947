package engraving

import "math"

// sky is the outline of what is drawn on a staff: for each slice of its width the
// highest and lowest ink, so that signs can be put clear of all others.
type sky struct {
	up, down []float64
	// top and bottom are the staff's own edges.
	top, bottom float64
}

// slice is the width of one slice in staff spaces.
const slice = 0.5

func newSky(width float64, lines int) *sky {
	n := int(width/slice) + 2
	s := &sky{up: make([]float64, n), down: make([]float64, n), top: y(topLine(lines)), bottom: y(bottomLine)}
	for i := range s.up {
		s.up[i], s.down[i] = math.Inf(1), math.Inf(-1)
	}
	return s
}

// slices clips a range of x to slice numbers.
func (s *sky) slices(x1, x2 float64) (from, to int) {
	from, to = int(math.Floor(x1/slice)), int(math.Floor(x2/slice))
	return max(0, min(from, len(s.up)-1)), max(0, min(to, len(s.up)-1))
}

// add records ink between x1 and x2, from top to bottom.
func (s *sky) add(x1, x2, top, bottom float64) {
	from, to := s.slices(x1, x2)
	for i := from; i <= to; i++ {
		s.up[i], s.down[i] = min(s.up[i], top), max(s.down[i], bottom)
	}
}

// glyph records a placed shape.
func (s *sky) glyph(g shape, x, y float64) {
	b := g.box()
	s.add(x+b.left, x+b.right, y+b.top, y+b.bottom)
}

// above is the highest ink between x1 and x2; the staff's top where it is lower.
func (s *sky) above(x1, x2 float64) float64 { return min(s.top, s.inkAbove(x1, x2)) }

// inkAbove is the highest ink alone, +∞ where there is none.
func (s *sky) inkAbove(x1, x2 float64) float64 {
	from, to := s.slices(x1, x2)
	edge := math.Inf(1)
	for i := from; i <= to; i++ {
		edge = min(edge, s.up[i])
	}
	return edge
}

// below is the lowest ink between x1 and x2; the staff's bottom where it is higher.
func (s *sky) below(x1, x2 float64) float64 { return max(s.bottom, s.inkBelow(x1, x2)) }

// inkBelow is the lowest ink alone, −∞ where there is none.
func (s *sky) inkBelow(x1, x2 float64) float64 {
	from, to := s.slices(x1, x2)
	edge := math.Inf(-1)
	for i := from; i <= to; i++ {
		edge = max(edge, s.down[i])
	}
	return edge
}

// drop returns how far apart the middle lines of two staves must be for the lower
// one's ink to clear this one's by gap.
func (s *sky) drop(lower *sky, gap float64) float64 {
	need := s.bottom - lower.top + gap
	for i := range s.down {
		up := min(lower.top, lower.up[i])
		down := max(s.bottom, s.down[i])
		need = max(need, down-up+gap)
	}
	return need
}

// height bounds all ink.
func (s *sky) height() (top, bottom float64) {
	top, bottom = s.top, s.bottom
	for i := range s.up {
		top, bottom = min(top, s.up[i]), max(bottom, s.down[i])
	}
	return top, bottom
}
