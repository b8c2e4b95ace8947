package engraving

import (
	"math"
	"slices"
	"strconv"

	"deskpart/musicxml/engraving/display"
)

// drawBar draws the notes, rests and signs of one bar on one staff.
func (s *system) drawBar(st *staffInk, p *barPlan) {
	for _, c := range p.columns {
		cell := &c.cells[st.index]
		if !cell.group.empty() {
			st.group(cell.group, c.x)
		}
	}
	// The lines of a bar are drawn after its signs, each kind in one stroke.
	lines := barLines{ink: &ink{large: st.large}}
	for _, c := range p.columns {
		s.drawCell(st, c, &lines)
	}
	for _, f := range p.centered {
		if f.staff.index == st.index {
			st.drawRest(f)
		}
	}
	st.items = append(append(st.items, lines.ledgers...), lines.items...)
	for _, g := range p.groups {
		if g.members[0].staff.index == st.index {
			st.of(g.members[0])
			g.draw(st)
		}
	}
	st.ofBar(p.index)
	if s.l.music.Bars[p.index].RestBars > 0 {
		st.multiRest(p, s.l.music.Bars[p.index].RestBars)
	}
	if n := s.l.music.Staves[st.index].Measures[p.index].Repeat; n > 0 {
		st.barRepeat(p, n)
	}
	if closing := p.closing[st.index]; closing.filled && p.index+1 < s.end+1 {
		st.group(closing.group, p.end-closingGap-closing.right)
	}
}

// barLines collects the stems (as its items) and ledger lines of a bar.
type barLines struct {
	*ink
	ledgers display.List
}

func (s *system) drawCell(st *staffInk, c *column, lines *barLines) {
	cell := &c.cells[st.index]
	for _, a := range cell.accidentals {
		st.owner = a.owner
		drawAccidental(st.ink, a, c.x)
		b := a.shape.box()
		st.sky.add(c.x+a.dx, c.x+a.dx+a.width(), a.y+b.top, a.y+b.bottom)
	}
	for _, f := range cell.figures {
		st.of(f)
		if f.isRest() {
			st.drawRest(f)
			continue
		}
		st.drawHeads(f)
		lines.of(f)
		lines.drawLedgers(st.sky, f)
		if f.stem && f.cross == nil {
			lines.drawStem(st.sky, f)
		}
		st.drawFlag(f)
		st.drawTremolo(f)
		st.drawDots(f)
		st.drawFalls(f)
		if f.event.Arpeggio != NoArpeggio && !f.joined {
			st.arpeggio(f.event.Arpeggio, c.x+cell.left, y(f.highest())-0.5, y(f.lowest())+0.5)
		}
	}
}

func (st *staffInk) drawRest(f *figure) {
	st.of(f)
	st.sign(display.RoleRest, f.rest.shape, f.x+f.dx+f.rest.dx, f.rest.y, "")
	st.sky.glyph(f.rest.shape, f.x+f.dx+f.rest.dx, f.rest.y)
	v := f.event.Value
	if out := f.rest.y < y(topLine(st.lines)) || f.rest.y > y(bottomLine); out && (v == Whole || v == Half || f.event.FullBar) {
		height := f.rest.y
		if v == Whole || f.event.FullBar {
			height--
		}
		st.line(display.RoleRestLedger, f.x-0.3, height, f.x+f.rest.shape.width()+0.3, height)
	}
	st.drawDots(f)
}

func (st *staffInk) drawHeads(f *figure) {
	for _, h := range f.heads {
		st.owner.Note = h.number
		x := f.x + f.dx + h.dx
		height := y(h.position)
		switch {
		case h.note.Hidden || h.note.Head == HeadNone:
			continue
		case h.fret != "":
			st.text(display.RoleFret, display.Middle, h.fret, x+h.width()/2, height+fretSize*0.34)
		default:
			st.sign(display.RoleHead, h.shape, x-h.shape.box().left, height, h.note.Class)
		}
		if h.note.Parentheses {
			st.fence(display.RoleHeadFence, x-0.15, height, 0.7, 0.3)
			st.fence(display.RoleHeadFence, x+h.width()+0.15, height, 0.7, -0.3)
		}
		st.sky.add(x, x+h.width(), height-0.55, height+0.55)
	}
	st.owner.Note = 0
	if f.isTablature() && f.event.Value <= Half && !f.staff.fretsOnly {
		st.ringFrets(f)
	}
}

// ringFrets draws a ring around the frets of a half note and longer, as other heads are
// hollow: one for those on neighbouring strings (common practice, no source).
func (st *staffInk) ringFrets(f *figure) {
	for i := 0; i < len(f.heads); {
		h, wide := f.heads[i], f.heads[i].width()
		last := h
		for i++; i < len(f.heads) && f.heads[i].position-last.position == 2; i++ {
			last, wide = f.heads[i], max(wide, f.heads[i].width())
		}
		if h.fret == "" || h.note.Hidden {
			continue
		}
		x, air := f.x+f.dx+h.dx, 0.4
		if last.position > h.position {
			air = 0.55 // an oval is narrow at its ends
		}
		top, bottom := y(last.position)-0.8, y(h.position)+0.8
		st.oval(display.RoleDiagram, x-air, top, x+wide+air, bottom)
		st.sky.add(x-air, x+wide+air, top, bottom)
	}
}

// drawLedgers draws the ledger lines of a figure.
func (k *barLines) drawLedgers(sky *sky, f *figure) {
	if f.isTablature() {
		return
	}
	stems := k.items
	k.items = k.ledgers
	defer func() { k.ledgers, k.items = k.items, stems }()
	overhang := ledgerOverhang * f.size()
	span := func(beyond func(int) bool) (left, right float64, any bool) {
		for _, h := range f.heads {
			if beyond(h.position) && !h.note.Hidden {
				x := f.x + f.dx + h.dx
				if !any {
					left, right = x, x+h.width()
				}
				left, right, any = min(left, x), max(right, x+h.width()), true
			}
		}
		return left - overhang, right + overhang, any
	}
	for p := topLine(f.staff.lines) + 2; p <= f.highest(); p += 2 {
		if left, right, any := span(func(h int) bool { return h >= p }); any {
			k.line(display.RoleLedger, left, y(p), right, y(p))
			sky.add(left, right, y(p), y(p))
		}
	}
	for p := bottomLine - 2; p >= f.lowest(); p -= 2 {
		if left, right, any := span(func(h int) bool { return h <= p }); any {
			k.line(display.RoleLedger, left, y(p), right, y(p))
			sky.add(left, right, y(p), y(p))
		}
	}
}

// drawStem draws the stem; it begins at the head farthest from
// its tip.
func (k *barLines) drawStem(sky *sky, f *figure) {
	far := y(f.lowest())
	if !f.up {
		far = y(f.highest())
	}
	attach := 0.15 * f.size()
	if f.isTablature() {
		far, attach = f.stemStart(), 0
	}
	if f.up {
		attach = -attach
	}
	x := f.stemX()
	sky.add(x, x, min(f.tip, far), max(f.tip, far))
	end := f.tip
	if f.group != nil {
		// The stem ends inside the beam.
		end -= attach
	}
	k.line(display.RoleStem, x, far+attach, x, end)
	if f.event.Slash {
		k.slash(f)
	}
}

// slash is the stroke through the stem of a short grace note.
func (k *barLines) slash(f *figure) {
	x, dir := f.stemX(), -outwards(f.up)
	middle := f.tip + dir*1.0
	k.line(display.RoleStem, x-0.6, middle+dir*0.5, x+0.75, middle-dir*0.45)
}

func (st *staffInk) drawFlag(f *figure) {
	if s, ok := f.flag(); ok && f.cross == nil {
		x := f.stemX() - stemThickness/2
		st.sign(display.RoleFlag, s, x, f.tip, "")
		st.sky.glyph(s, x, f.tip)
	}
}

// tremoloHalf is half the width of a tremolo stroke.
const tremoloHalf = 0.65

// BuzzRoll is the Tremolo of an event that is a buzz roll, drawn as a z.
const BuzzRoll = -1

// drawTremolo draws the strokes through a stem, or over a stemless note.
func (st *staffInk) drawTremolo(f *figure) {
	n := f.event.Tremolo
	if n == 0 {
		return
	}
	x, at, dir := f.center(), f.stemStart()-1.2, -1.0
	if f.stem {
		x = f.stemX()
		dir = -outwards(f.up)
		at = f.tip + dir*0.8
		if f.group != nil {
			at += dir * beamStep * float64(f.group.levelsAt(f))
		} else if f.event.Value >= Eighth {
			at += dir * 0.9
		}
	}
	if n == BuzzRoll {
		z := shape{name: "dynamic-z", small: true}
		st.sign(display.RoleTremolo, z, x-z.box().left-z.width()/2, at+0.4, "")
		st.sky.add(x-tremoloHalf, x+tremoloHalf, at-0.5, at+0.5)
		return
	}
	for i := range n {
		middle := at + dir*0.8*float64(i)
		st.beam(display.RoleTremolo, x-tremoloHalf, middle+0.05, x+tremoloHalf, middle-0.35, 0.4)
		st.sky.add(x-tremoloHalf, x+tremoloHalf, middle-0.35, middle+0.45)
	}
}

func (st *staffInk) drawDots(f *figure) {
	for _, d := range f.dots {
		st.sign(display.RoleDot, d.shape, f.x+d.dx, d.y, "")
		st.sky.glyph(d.shape, f.x+d.dx, d.y)
	}
}

// arpeggio draws the line before a chord at x: wavy, with an arrow at its end, or a
// bracket.
func (k *ink) arpeggio(kind Arpeggio, x, top, bottom float64) {
	if kind == ArpeggioBracket {
		k.line(display.RoleArpeggio, x+0.6, top, x+0.2, top, x+0.2, bottom, x+0.6, bottom)
		return
	}
	end := top + math.Ceil(bottom-top)
	k.wave(display.RoleArpeggio, x+0.3, top, x+0.3, end, -0.45)
	switch kind {
	case ArpeggioUp:
		k.line(display.RoleArpeggio, x-0.05, top+0.5, x+0.3, top-0.2, x+0.65, top+0.5)
	case ArpeggioDown:
		k.line(display.RoleArpeggio, x-0.05, end-0.5, x+0.3, end+0.2, x+0.65, end-0.5)
	}
}

// draw draws the beams of a group.
func (g *beamGroup) draw(st *staffInk) {
	scale := g.members[0].size()
	inward := -outwards(g.up) * beamStep * scale
	thick := beamThickness * scale
	for level := 0; level < g.levels(); level++ {
		for _, run := range g.runs(level) {
			y1 := g.at(run[0]) + inward*float64(level)
			y2 := g.at(run[1]) + inward*float64(level)
			if !g.up {
				y1, y2 = y1-thick, y2-thick
			}
			st.beam(display.RoleBeam, run[0]-stemThickness/2, y1, run[1]+stemThickness/2, y2, thick)
		}
	}
	first, last := g.members[0].stemX(), g.members[len(g.members)-1].stemX()
	for x := first; x <= last; x += slice {
		st.sky.add(x, x, g.at(x), g.at(x))
	}
}

// runs returns the stretches (from x to x) of one beam level.
func (g *beamGroup) runs(level int) [][2]float64 {
	const hook = 1.1
	var list [][2]float64
	open := -1
	for i, f := range g.members {
		if !g.has(i, level) {
			if open >= 0 {
				list, open = append(list, [2]float64{g.members[open].stemX(), g.members[i-1].stemX()}), -1
			}
			continue
		}
		x := f.stemX()
		switch g.marks[i][level] {
		case BeamHookRight:
			list = append(list, [2]float64{x, x + hook*f.size()})
		case BeamHookLeft:
			list = append(list, [2]float64{x - hook*f.size(), x})
		case BeamBegin:
			open = i
		case BeamEnd:
			if open >= 0 {
				list = append(list, [2]float64{g.members[open].stemX(), x})
			}
			open = -1
		default:
			if open < 0 {
				open = i
			}
		}
	}
	if open >= 0 && open < len(g.members)-1 {
		list = append(list, [2]float64{g.members[open].stemX(), g.members[len(g.members)-1].stemX()})
	}
	return list
}

// levelsAt is the number of beams at one note.
func (g *beamGroup) levelsAt(f *figure) int {
	if i := slices.Index(g.members, f); i >= 0 {
		return len(g.marks[i])
	}
	return 0
}

// barRepeat draws the sign that says to play bars again, in the middle of the bar,
// for two bars on the line before it; for more with their number.
func (st *staffInk) barRepeat(p *barPlan, bars int) {
	sh, x := shape{name: "simile"}, (p.start+p.end)/2
	if bars > 1 {
		sh, x = shape{name: "repeat-two-bars"}, p.x
	}
	middle := y(bottomLine + st.lines - 1)
	st.sign(display.RoleBarRepeat, sh, x-sh.width()/2-sh.box().left, middle, "")
	st.sky.glyph(sh, x-sh.width()/2, middle)
	if bars > 1 {
		at := y(topLine(st.lines)) - 0.6
		st.text(display.RoleBarNumber, display.Middle, strconv.Itoa(bars), x, at)
		st.sky.add(x-0.5, x+0.5, at-1, at)
	}
}

// multiRest draws a rest of several bars: a thick bar with its number above.
func (st *staffInk) multiRest(p *barPlan, bars int) {
	left, right := p.start+1.2, p.end-p.closingWidth()-1.2
	middle := y(bottomLine + st.lines - 1)
	st.box(display.RoleMultiRest, left, middle-0.35, right, middle+0.35)
	st.box(display.RoleMultiRest, left-0.1, middle-1, left+0.08, middle+1)
	st.box(display.RoleMultiRest, right-0.08, middle-1, right+0.1, middle+1)
	g := numerals(strconv.Itoa(bars))
	at := y(topLine(st.lines)) - 1.7
	if st.lines < 2 {
		at = middle - 2.8
	}
	st.begin(display.RoleRestCount, 0)
	for _, n := range g.signs {
		x := (left+right)/2 - g.width/2 + n.dx
		st.sign(display.RoleRestCount, n.shape, x, at, "")
		st.sky.glyph(n.shape, x, at)
	}
	st.end()
}
