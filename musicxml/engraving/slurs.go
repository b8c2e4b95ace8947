package engraving

import (
	"math"

	"deskpart/musicxml/engraving/display"
)

// drawSlurs draws the slurs of a staff, the short ones first so that longer ones
// go around them.
func (s *system) drawSlurs(st *staffInk) {
	var here []slurInk
	for _, sl := range s.l.slurs[st.index] {
		if sl.fromBar < s.end && sl.toBar >= s.first {
			if d, ok := s.slurEnds(sl); ok {
				here = append(here, d)
			}
		}
	}
	for i := 1; i < len(here); i++ {
		for j := i; j > 0 && here[j].width() < here[j-1].width(); j-- {
			here[j], here[j-1] = here[j-1], here[j]
		}
	}
	for _, d := range here {
		d.fit(st)
		st.ofSlur(d)
		st.bow(display.RoleSlur, d.x1, d.y1, d.x2, d.y2, d.height, 0.3)
		d.record(st)
	}
}

// ofSlur names the note that a slur begins at, or ends at where it comes from the
// line before.
func (k *ink) ofSlur(d slurInk) {
	switch {
	case d.from != nil:
		k.of(d.from)
	case d.to != nil:
		k.of(d.to)
	default:
		k.ofBar(-1)
	}
}

// maxTilt is the rise of a slur against its width beyond which it is levelled.
const maxTilt = 0.3

// slurInk is a slur or its part on one line.
type slurInk struct {
	x1, y1, x2, y2, height float64
	up                     bool
	from, to               *figure // nil at the edge of a line
}

func (d slurInk) width() float64 { return d.x2 - d.x1 }

// slurEnds finds the figures of a slur on this line.
func (s *system) slurEnds(sl slur) (slurInk, bool) {
	d := slurInk{x1: s.bars[0].start - 0.3, x2: s.lineEnd()}
	if sl.fromBar >= s.first {
		d.from = s.figures[sl.from]
		if d.from == nil {
			return d, false
		}
		d.x1 = d.from.center()
	}
	if sl.toBar < s.end {
		d.to = s.figures[sl.to]
		if d.to == nil {
			return d, false
		}
		d.x2 = d.to.center()
	}
	d.up = s.slurUp(sl, d)
	if d.grace() && !d.to.event.Grace && !d.up && !d.to.pointsUp() {
		d.x2 = d.to.x + d.to.dx - 0.15 // beside the stem
	}
	return d, d.x2 > d.x1
}

// slurUp chooses the side: as asked, by the voice on a shared staff, else on the
// heads' side where all stems point up, and above otherwise.
func (s *system) slurUp(sl slur, d slurInk) bool {
	switch sl.side {
	case Above:
		return true
	case Below:
		return false
	}
	one := d.from
	if one == nil {
		one = d.to
	}
	if one == nil {
		return true
	}
	if one.shared && !one.isRest() {
		return one.upper
	}
	if d.grace() {
		// On the heads' side of the grace note; the main note gives way.
		return !d.from.pointsUp() || !d.to.pointsUp() && d.to.event.Grace
	}
	for _, f := range s.staves[one.staff.index].figures {
		if f.x >= d.x1-1.5 && f.x <= d.x2 && !f.event.Grace && !f.pointsUp() {
			return true
		}
	}
	return false
}

// fit sets the heights of the ends, just clear of the notes, and a bow that clears
// what lies between.
func (d *slurInk) fit(st *staffInk) {
	sign := 1.0
	if d.up {
		sign = -1
	}
	edge := func(x1, x2 float64) float64 {
		if d.up {
			return st.sky.inkAbove(x1, x2)
		}
		return st.sky.inkBelow(x1, x2)
	}
	d.y1, d.y2 = d.endHeight(d.from, d.x1, edge, sign), d.endHeight(d.to, d.x2, edge, sign)
	if d.from == nil {
		d.y1 = d.y2
	}
	if d.to == nil {
		d.y2 = d.y1
	}
	// A steep slur is lifted at its inner end.
	if tilt := math.Abs(d.y2 - d.y1); tilt > d.width()*maxTilt {
		lift := (tilt - d.width()*maxTilt) * 0.7
		if sign*d.y1 < sign*d.y2 {
			d.y1 += sign * lift
		} else {
			d.y2 += sign * lift
		}
	}
	least := min(2.6, 0.8+0.07*d.width())
	height := least
	for x := d.x1 + 0.8; x < d.x2-0.8; x += slice {
		t := (x - d.x1) / d.width()
		ink := edge(x, x)
		if math.IsInf(ink, 0) {
			continue
		}
		chord := d.y1 + (d.y2-d.y1)*t
		if need := sign*(ink-chord) + 0.35; need > 0 {
			height = max(height, need/max(0.5, bowShare(t)))
		}
	}
	limit := least + 0.5 + d.width()*0.28
	if height > limit {
		// Rather move the ends out than make a steep bow.
		d.y1 += sign * (height - limit) * 0.6
		d.y2 += sign * (height - limit) * 0.6
		height = limit
	}
	d.height = sign * height
}

// bowShare is the height of a bow at a share of its width, for control points of
// height 1.
func bowShare(t float64) float64 {
	return min(0.75, 3*t*(1-t)*1.15)
}

// endHeight is where a slur's end stands over a note.
func (d *slurInk) endHeight(f *figure, x float64, edge func(x1, x2 float64) float64, sign float64) float64 {
	if f == nil {
		return 0
	}
	if d.grace() && len(f.heads) > 0 {
		// Close to the heads, whatever hangs from them.
		position := f.lowest()
		if d.up {
			position = f.highest()
		}
		return y(position) + sign*0.8
	}
	height := edge(x-0.4, x+0.4)
	if math.IsInf(height, 0) {
		height = 0
	}
	return height + sign*0.45
}

// grace reports whether the slur joins a grace note to its main note.
func (d *slurInk) grace() bool {
	return d.from != nil && d.to != nil && d.from.event.Grace != d.to.event.Grace && d.width() < 8
}

func (d *slurInk) record(st *staffInk) {
	for x := d.x1; x <= d.x2; x += slice {
		t := (x - d.x1) / d.width()
		at := d.y1 + (d.y2-d.y1)*t + d.height*bowShare(t)
		st.sky.add(x, x, at, at)
	}
}
