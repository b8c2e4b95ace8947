package engraving

import (
	"math"
	"slices"
	"sort"

	"deskpart/musicxml/engraving/display"
)

// crossGroup is a beam whose notes stand on several staves. It is laid when it is
// known how far the staves are apart.
type crossGroup struct {
	*beamGroup
	// chord says that the notes are one chord without beam, on one stem.
	chord bool
	// y0 and slope are the middle of the beams in the system, at x0.
	y0, slope, x0 float64
}

// crosses reports whether the group's notes stand on several staves.
func (g *beamGroup) crosses() bool {
	return slices.ContainsFunc(g.members, func(f *figure) bool { return f.staff.index != g.members[0].staff.index })
}

// findGroups gathers the beams of a bar: those of a voice on one staff, and those of
// a voice that goes from staff to staff.
func (p *barPlan) findGroups(voices []voiceFigures) {
	crossing := map[string][]*figure{}
	var ids []string
	for _, v := range voices {
		if v.id == "" {
			p.groups = append(p.groups, findBeams(v.figures)...)
			continue
		}
		if crossing[v.id] == nil {
			ids = append(ids, v.id)
		}
		crossing[v.id] = append(crossing[v.id], v.figures...)
	}
	for _, id := range ids {
		list := crossing[id]
		sort.SliceStable(list, func(i, j int) bool { return list[i].event.Onset.Less(list[j].event.Onset) })
		for _, g := range findBeams(list) {
			if g.crosses() {
				c := &crossGroup{beamGroup: g}
				c.chooseStems()
				p.crossing = append(p.crossing, c)
				continue
			}
			p.groups = append(p.groups, g)
		}
		p.crossing = append(p.crossing, crossChords(list)...)
	}
}

// crossChords finds the chords of a voice that stand on several staves, without
// beam.
func crossChords(figures []*figure) []*crossGroup {
	var list []*crossGroup
	for i := 0; i < len(figures); {
		j := i + 1
		for j < len(figures) && figures[j].event.Onset == figures[i].event.Onset {
			j++
		}
		g := &beamGroup{}
		for _, f := range figures[i:j] {
			if f.group == nil && f.stem && !f.isRest() && !f.event.Grace && !f.event.Hidden {
				g.members = append(g.members, f)
			}
		}
		i = j
		if len(g.members) < 2 || !g.crosses() {
			continue
		}
		g.marks = make([][]Beam, len(g.members))
		c := &crossGroup{beamGroup: g, chord: true}
		c.chooseStems()
		list = append(list, c)
	}
	return list
}

// chooseStems gives each note the direction that its part says; without one, the
// stems point to the beam between the staves.
func (c *crossGroup) chooseStems() {
	top := c.members[0].staff.index
	for _, f := range c.members {
		top = min(top, f.staff.index)
	}
	if c.chord {
		top = -1 // one stem, upwards
	}
	for _, f := range c.members {
		f.stem, f.cross = true, c
		switch f.event.Stem {
		case StemUp:
			f.up = true
		case StemDown:
			f.up = false
		default:
			f.up = f.staff.index > top
		}
		if c.chord {
			f.up = c.members[0].up
		}
	}
}

// crossStem is the stem that the staves keep room for, in staff spaces.
const crossStem = 2.8

// reserve keeps the room of the stems and beams on a staff free, before it is known
// where the beam lies.
func (c *crossGroup) reserve(st *staffInk) {
	depth := beamThickness + beamStep*float64(c.levels()-1)
	for _, f := range c.members {
		if f.staff.index != st.index {
			continue
		}
		head := f.stemStart()
		f.tip = head + crossStem
		if f.up {
			f.tip = head - crossStem
		}
		x := f.stemX()
		if f.towards() {
			st.sky.add(x-0.3, x+0.3, min(head, f.tip), max(head, f.tip)+depth/2)
		} else {
			st.sky.add(x-0.3, x+0.3, min(head, f.tip)-depth, max(head, f.tip)+depth)
		}
	}
}

// towards reports whether the note's stem points to the other notes' staff.
func (f *figure) towards() bool {
	for _, other := range f.cross.members {
		if other.staff.index != f.staff.index {
			return f.up == (other.staff.index < f.staff.index)
		}
	}
	return false
}

// lay finds the beam's place: between the heads where the stems point at each
// other, else beyond the outermost heads. down has the heights of the staves.
func (c *crossGroup) lay(down func(*figure) float64) {
	first, last := c.members[0], c.members[len(c.members)-1]
	c.x0 = first.stemX()
	lowestDown, highestUp := math.Inf(-1), math.Inf(1) // heads with stems down, and up
	for _, f := range c.members {
		if head := f.stemStart() + down(f); f.up {
			highestUp = min(highestUp, head)
		} else {
			lowestDown = max(lowestDown, head)
		}
	}
	depth := beamThickness + beamStep*float64(c.levels()-1)
	switch {
	case math.IsInf(lowestDown, -1):
		c.y0 = highestUp - usualStem + depth/2
	case math.IsInf(highestUp, 1):
		c.y0 = lowestDown + usualStem - depth/2
	default:
		c.y0 = (lowestDown + highestUp) / 2
	}
	if run := last.stemX() - c.x0; run > 0 && first.up == last.up {
		rise := (last.stemStart() + down(last)) - (first.stemStart() + down(first))
		c.slope = max(-0.1, min(rise*0.2/run, 0.1))
	}
}

// draw draws beams and stems in the system.
func (c *crossGroup) draw(k *ink, down func(*figure) float64) {
	c.lay(down)
	depth := beamThickness + beamStep*float64(c.levels()-1)
	top := func(x float64) float64 { return c.y0 - depth/2 + c.slope*(x-c.x0) }
	k.of(c.members[0])
	for level := 0; level < c.levels(); level++ {
		for _, run := range c.runs(level) {
			shift := beamStep * float64(level)
			k.beam(display.RoleBeam, run[0]-stemThickness/2, top(run[0])+shift, run[1]+stemThickness/2, top(run[1])+shift, beamThickness)
		}
	}
	for _, f := range c.members {
		k.of(f)
		x, far := f.stemX(), y(f.lowest())+down(f)
		end := top(f.stemX())
		if !f.up {
			far, end = y(f.highest())+down(f), end+depth
		}
		f.tip = end - down(f)
		k.line(display.RoleStem, x, far, x, end)
	}
	if c.chord {
		c.drawFlag(k, down)
	}
}

// drawFlag draws the flag of a chord over several staves, at its stem's end.
func (c *crossGroup) drawFlag(k *ink, down func(*figure) float64) {
	f := c.members[0]
	if s, ok := f.flag(); ok {
		k.of(f)
		k.sign(display.RoleFlag, s, f.stemX()-stemThickness/2, f.tip+down(f), "")
	}
}
