package engraving

import (
	"math"

	"deskpart/musicxml/engraving/display"
)

// drawOver draws what reaches from staff to staff, when the staves have their
// places: beams, slurs, lines, arpeggios. Its heights count from the system's top.
func (s *system) drawOver(top float64) display.List {
	k := &ink{large: s.l.o.LargePrint}
	down := func(f *figure) float64 { return s.staves[f.staff.index].y - top }
	for _, p := range s.bars {
		for _, c := range p.crossing {
			c.draw(k, down)
			s.crossTuplets(k, c)
		}
		for _, a := range p.arpeggios {
			a.draw(k, down)
		}
	}
	for _, sl := range s.l.slurs {
		if _, crosses := s.slurStaff(&sl); crosses {
			s.crossSlur(k, sl, down)
		}
	}
	for i := range s.crossTies {
		s.crossTie(k, &s.crossTies[i], down)
	}
	for _, sl := range s.l.slides {
		if _, crosses := s.slurStaff(&sl); crosses {
			s.slide(k, &sl, down)
		}
	}
	return k.items
}

// crossTuplets puts the figures of tuplets at beams over several staves: over the
// beam, or under it, between its ends.
func (s *system) crossTuplets(k *ink, c *crossGroup) {
	for _, t := range tupletsOf(c.members) {
		first, last := t.members[0], t.members[len(t.members)-1]
		if t.end.Text == "" || first == last {
			continue
		}
		k.of(first)
		middle := (first.stemX() + last.stemX()) / 2
		depth := beamThickness + beamStep*float64(c.levels()-1)
		height := c.y0 + c.slope*(middle-c.x0) - depth/2 - 0.35
		for _, f := range t.members { // off the stem in the middle
			if !f.up && math.Abs(f.stemX()-middle) < 0.9 {
				height += depth + 0.7 + tupletSize*0.72
				break
			}
		}
		k.text(display.RoleTuplet, display.Middle, t.end.Text, middle, height)
	}
}

// crossArpeggio is an arpeggio over several staves: the figures it joins.
type crossArpeggio struct {
	column  *column
	figures []*figure
}

// findArpeggios joins the arpeggios of one number at one moment on several staves.
func (p *barPlan) findArpeggios() {
	for _, c := range p.columns {
		byID := map[int][]*figure{}
		for s := range c.cells {
			for _, f := range c.cells[s].figures {
				if f.event.Arpeggio != NoArpeggio && f.event.ArpeggioID > 0 {
					byID[f.event.ArpeggioID] = append(byID[f.event.ArpeggioID], f)
				}
			}
		}
		for id := 1; len(byID) > 0 && id <= 16; id++ {
			list := byID[id]
			if len(list) > 1 && list[0].staff.index != list[len(list)-1].staff.index {
				p.arpeggios = append(p.arpeggios, crossArpeggio{c, list})
				for _, f := range list {
					f.joined = true
				}
			}
		}
	}
}

func (a crossArpeggio) draw(k *ink, down func(*figure) float64) {
	left, top, bottom := 0.0, math.Inf(1), math.Inf(-1)
	for _, f := range a.figures {
		left = min(left, f.inkLeft)
		top, bottom = min(top, y(f.highest())+down(f)), max(bottom, y(f.lowest())+down(f))
	}
	k.of(a.figures[0])
	k.arpeggio(a.figures[0].event.Arpeggio, a.column.x+left, top-0.5, bottom+0.5)
}
