package engraving

import (
	"cmp"
	"slices"

	"deskpart/musicxml/engraving/display"
)

// drawSlurs draws the slurs of a staff, the short ones first so that longer ones
// go around them.
func (s *system) drawSlurs(st *staffInk) {
	var here []slurInk
	for _, sl := range s.l.slurs {
		if staff, crosses := s.slurStaff(&sl); crosses || staff != st.index {
			continue
		}
		if d, ok := s.slurEnds(sl); ok {
			here = append(here, d)
		}
	}
	for i := 1; i < len(here); i++ {
		for j := i; j > 0 && here[j].width() < here[j-1].width()-alike; j-- {
			here[j], here[j-1] = here[j-1], here[j]
		}
	}
	for _, d := range here {
		d.fit(d.obstacles(st.items))
		st.drawSlur(d)
		d.record(st)
	}
}

// alike is how little the widths of slurs of one length differ on the page.
const alike = 1e-6

// slurStaff tells on which staff of this line a slur is drawn (−1: it is not on this
// line), and whether it crosses from one staff to another here.
func (s *system) slurStaff(sl *slur) (staff int, crosses bool) {
	begins, ends := sl.fromBar >= s.first && sl.fromBar < s.end, sl.toBar >= s.first && sl.toBar < s.end
	switch {
	case sl.fromBar >= s.end || sl.toBar < s.first:
		return -1, false
	case begins && ends:
		return sl.fromStaff, sl.crosses()
	case ends:
		return sl.toStaff, false
	}
	return sl.fromStaff, false
}

// drawSlur draws a slur that was fitted, broken where it is to be.
func (k *ink) drawSlur(d slurInk) {
	k.ofSlur(d)
	k.anyBow(display.RoleSlur, d.shape(), d.line)
}

// shape is the bow of the slur.
func (d *slurInk) shape() display.Bow {
	return display.Bow{From: place(d.x1, d.y1), To: place(d.x2, d.y2), Height: display.Spaces(d.height), Thickness: slurThickness}
}

// anyBow draws a bow, or dashes or dots along its middle.
func (k *ink) anyBow(role display.Role, b display.Bow, line LineType) {
	if line == Solid {
		k.add(role, "", b)
		return
	}
	step, share := 1.1, 0.6
	if line == Dotted {
		step, share = 0.5, 0.25
	}
	n := max(3, int(float64(b.To.X-b.From.X)/step))
	for i := range n {
		t := float64(i) / float64(n)
		from, control, to := b.At(t), b.At(t+share/2/float64(n)), b.At(t+share/float64(n))
		k.add(role, "", display.Curve{From: from, Control: control, To: to, Thickness: 0.16})
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
	line                   LineType
	from, to               *figure // nil at the edge of a line
	// down1 and down2 are how far the notes' staves lie below the slur's own y = 0:
	// nothing but for a slur from staff to staff.
	down1, down2 float64
}

func (d slurInk) width() float64 { return d.x2 - d.x1 }

// slurEnds finds the figures of a slur on this line.
func (s *system) slurEnds(sl slur) (slurInk, bool) {
	d := slurInk{x1: s.bars[0].start - 0.3, x2: s.lineEnd(), line: sl.line}
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
	if sl.side != SideAuto {
		return sl.side == Above
	}
	one := cmp.Or(d.from, d.to)
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
	return slices.ContainsFunc(s.staves[one.staff.index].figures, func(f *figure) bool { return f.x >= d.x1-1.5 && f.x <= d.x2 && !f.event.Grace && !f.pointsUp() })
}

// grace reports whether the slur joins a grace note to its main note.
func (d *slurInk) grace() bool {
	return d.from != nil && d.to != nil && d.from.event.Grace != d.to.event.Grace && d.width() < 8
}
