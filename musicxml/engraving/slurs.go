package engraving

import (
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
		st.bow(display.RoleSlur, d.x1, d.y1, d.x2, d.y2, d.height, slurThickness)
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

// slurThickness is that of a slur's middle.
const slurThickness = 0.3

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

// grace reports whether the slur joins a grace note to its main note.
func (d *slurInk) grace() bool {
	return d.from != nil && d.to != nil && d.from.event.Grace != d.to.event.Grace && d.width() < 8
}
