package engraving

import (
	"math"
	"slices"
)

// The thicknesses of strokes, in staff spaces.
const (
	stemThickness  = 0.12
	beamThickness  = 0.5
	beamStep       = 0.76 // from one beam to the next
	usualStem      = 3.5  // one octave
	shortestStem   = 2.5
	ledgerOverhang = 0.32
)

// beamGroup is a run of notes joined by beams.
type beamGroup struct {
	members []*figure
	up      bool
	// level holds, for each member, what each beam level does there.
	marks [][]Beam
	// At x = stems, the outer edge of the first beam is y0 + slope·(x − x0).
	x0, y0, slope float64
}

// findBeams gathers the beam groups of one voice in one bar. Grace notes and
// ordinary notes are beamed apart.
func findBeams(figures []*figure) []*beamGroup {
	var groups []*beamGroup
	for _, grace := range []bool{true, false} {
		var open *beamGroup
		for _, f := range figures {
			if f.event.Grace != grace {
				continue
			}
			open = open.take(f, &groups)
		}
		open.finish(&groups)
	}
	return groups
}

// take adds a note to the open group, or opens or closes one; it returns the
// group that is open afterwards.
func (g *beamGroup) take(f *figure, groups *[]*beamGroup) *beamGroup {
	mark := BeamNone
	if len(f.event.Beams) > 0 {
		mark = f.event.Beams[0]
	}
	if f.isRest() || f.event.Hidden || f.staff.fretsOnly {
		return g
	}
	switch {
	case mark == BeamBegin:
		g.finish(groups)
		return &beamGroup{members: []*figure{f}}
	case mark == BeamContinue && g == nil:
		return &beamGroup{members: []*figure{f}}
	case mark == BeamContinue:
		g.members = append(g.members, f)
		return g
	case mark == BeamEnd && g != nil:
		g.members = append(g.members, f)
	}
	if mark == BeamEnd || mark == BeamNone && f.event.Value.flags() == 0 {
		g.finish(groups)
		return nil
	}
	return g
}

// finish closes a group; one note alone is no group.
func (g *beamGroup) finish(groups *[]*beamGroup) {
	if g == nil || len(g.members) < 2 || g.members[0].group != nil {
		return
	}
	for _, f := range g.members {
		f.group = g
	}
	if !g.crosses() {
		g.chooseStems()
	}
	g.setMarks()
	*groups = append(*groups, g)
}

// chooseStems sets one direction for the group: what its notes ask for, else
// that of the head farthest from the middle line, else of most heads.
func (g *beamGroup) chooseStems() {
	low, high, sum := 99, -99, 0
	for _, f := range g.members {
		low, high = min(low, f.lowest()), max(high, f.highest())
		sum += f.lowest() + f.highest()
	}
	up, said := g.members[0].askedStem()
	switch {
	case said:
		g.up = up
	case -low == high:
		g.up = sum < 0
	default:
		g.up = autoUp(low, high)
	}
	for _, f := range g.members {
		f.up, f.stem = g.up, true
	}
}

// setMarks takes the beams of each level from the events where they say more
// than the first level, else works them out from the values.
func (g *beamGroup) setMarks() {
	g.marks = make([][]Beam, len(g.members))
	for i, f := range g.members {
		g.marks[i] = append([]Beam(nil), f.event.Beams...)
	}
	for level := 1; level < 8; level++ {
		for i, f := range g.members {
			if f.event.Value.flags() > level && !g.has(i, level) {
				g.work(i, level)
			}
		}
	}
}

func (g *beamGroup) has(i, level int) bool {
	return level < len(g.marks[i]) && g.marks[i][level] != BeamNone
}

func (g *beamGroup) set(i, level int, b Beam) {
	for len(g.marks[i]) <= level {
		g.marks[i] = append(g.marks[i], BeamNone)
	}
	g.marks[i][level] = b
}

// work decides one level at one note: joined to neighbours that have the level,
// else a hook to the side of the note it belongs with.
func (g *beamGroup) work(i, level int) {
	joins := func(j int) bool {
		return j >= 0 && j < len(g.members) && g.members[j].event.Value.flags() > level && len(g.members[j].event.Beams) <= level
	}
	switch before, after := joins(i-1), joins(i+1); {
	case before && after:
		g.set(i, level, BeamContinue)
	case before:
		g.set(i, level, BeamEnd)
	case after:
		g.set(i, level, BeamBegin)
	case i == 0:
		g.set(i, level, BeamHookRight)
	case i == len(g.members)-1 || g.members[i-1].event.Dots > 0:
		g.set(i, level, BeamHookLeft)
	default:
		g.set(i, level, BeamHookRight)
	}
}

// levels is the largest number of beams at any note of the group.
func (g *beamGroup) levels() int {
	most := 1
	for i := range g.marks {
		for level := range g.marks[i] {
			if g.has(i, level) {
				most = max(most, level+1)
			}
		}
	}
	return most
}

// fit lays the beam: a slope that follows the outer notes, gently, and a height
// that leaves every stem long enough. Call it when x is known.
func (g *beamGroup) fit() {
	first, last := g.members[0], g.members[len(g.members)-1]
	g.x0 = first.stemX()
	run := last.stemX() - g.x0
	rise := g.rise(run)
	if run > 0 {
		g.slope = rise / run
	}
	scale := first.size()
	sign := outwards(g.up)
	wanted, least := usualStem*scale, g.shortest()*scale
	ends := func(f *figure) float64 { return f.stemStart() - g.slope*(f.stemX()-g.x0) }
	// In the direction of the stems, the beam lies as far out as the usual stem of
	// the nearer outer note asks, and beyond the shortest stem of every note.
	g.y0 = sign * max(sign*(ends(first)+sign*wanted), sign*(ends(last)+sign*wanted))
	near := sign * min(sign*(ends(first)+sign*wanted), sign*(ends(last)+sign*wanted))
	g.y0 = (g.y0 + near) / 2
	for _, f := range g.members {
		g.y0 = sign * max(sign*g.y0, sign*(ends(f)+sign*least))
		if reach := -g.slope * (f.stemX() - g.x0); !f.event.Grace && !f.shared {
			g.y0 = sign * max(sign*g.y0, sign*reach) // the middle line
		}
	}
	g.y0 = math.Round(g.y0*4) / 4
	for _, f := range g.members {
		f.tip = g.at(f.stemX())
	}
}

// shortest is the least stem length for the group's number of beams.
func (g *beamGroup) shortest() float64 {
	strokes := 0
	for _, f := range g.members {
		strokes = max(strokes, f.event.Tremolo, -f.event.Tremolo)
	}
	return shortestStem + beamStep*float64(max(0, g.levels()-2)) + 0.25*float64(min(1, g.levels()-1)) + 0.75*float64(strokes)
}

// at is the outer edge of the first beam at x.
func (g *beamGroup) at(x float64) float64 { return g.y0 + g.slope*(x-g.x0) }

// rise is the vertical distance of the beam's ends over a run: none where inner
// notes lie beyond both outer ones, else about half the notes' own distance,
// at most a space and a quarter.
func (g *beamGroup) rise(run float64) float64 {
	first, last := g.members[0].stemSidePosition(), g.members[len(g.members)-1].stemSidePosition()
	outer := max(first, last)
	if !g.up {
		outer = -min(first, last)
	}
	for _, f := range g.members[1 : len(g.members)-1] {
		inner := f.stemSidePosition()
		if !g.up {
			inner = -inner
		}
		if inner >= outer && (inner > outer || len(g.members) > 3) {
			return 0
		}
	}
	limit := min(1.25, run*0.18)
	rise := float64(first-last) / 2 * 0.55
	rise = max(-limit, min(limit, rise))
	return math.Round(rise*4) / 4
}

// stemSidePosition is the head nearest to the stem's tip.
func (f *figure) stemSidePosition() int {
	switch {
	case f.isTablature() && f.up: // outside the staff, off the frets
		return topLine(f.staff.lines) + 1
	case f.isTablature():
		return bottomLine - 1
	}
	if f.up {
		return f.highest()
	}
	return f.lowest()
}

// stemStart is the height of that head.
func (f *figure) stemStart() float64 { return y(f.stemSidePosition()) }

// fitStem sets the tip of a stem without beam: an octave long, longer for many
// flags and up to the middle line from ledger lines, a little shorter where it
// points away from the staff.
func (f *figure) fitStem() {
	length := usualStem
	if n := f.event.Value.flags(); n > 2 {
		length += 0.7 * float64(n-2)
	}
	if n := f.event.Tremolo + min(1, f.event.Value.flags()); n > 2 {
		length += 0.7 * float64(n-2)
	}
	start := f.stemStart()
	away := start < 0 && f.up || start > 0 && !f.up
	if away && f.event.Value.flags() == 0 {
		length -= min(1, math.Abs(start)*0.4)
	}
	length *= f.size()
	sign := outwards(f.up)
	f.tip = start + sign*length
	if !f.event.Grace && !f.shared {
		f.tip = sign * max(sign*f.tip, 0)
	}
}

// clearBeams moves rests that stand under or over a beam, by whole spaces, off it:
// towards the heads, or beyond the beam where other notes stand in the way.
func (p *barPlan) clearBeams() {
	for _, c := range p.columns {
		for s := range c.cells {
			for _, f := range c.cells[s].figures {
				for _, g := range p.groups {
					if f.isRest() && f.event.RestPosition == nil && g.members[0].staff.index == s {
						before := f.rest.y
						g.clear(f, g.up)
						if f.rest.y != before && slices.ContainsFunc(c.cells[s].figures, f.isOn) {
							f.rest.y = before
							g.clear(f, !g.up)
						}
					}
				}
			}
		}
	}
}

// clear moves a rest off the group's beams, downwards or upwards.
func (g *beamGroup) clear(rest *figure, down bool) {
	const air = 0.25
	box := rest.rest.shape.box()
	left := rest.x + rest.dx + rest.rest.dx
	right := left + box.width()
	if right < g.members[0].stemX() || left > g.members[len(g.members)-1].stemX() {
		return
	}
	depth := beamThickness + beamStep*float64(g.levels()-1)
	step := outwards(!down)
	for range 12 {
		for _, x := range [2]float64{left, right} {
			top, bottom := g.at(x), g.at(x)+depth
			if !g.up {
				top, bottom = g.at(x)-depth, g.at(x)
			}
			if rest.rest.y+box.top < bottom+air && rest.rest.y+box.bottom > top-air {
				rest.rest.y += step
			}
		}
	}
}
