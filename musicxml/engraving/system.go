package engraving

import (
	"math"
	"slices"

	"deskpart/musicxml/engraving/display"
)

// system is one line being drawn.
type system struct {
	l          *Layout
	first, end int // bars: first included, end excluded
	bars       []*barPlan
	staves     []*staffInk
	head       [][]signGroup
	courtesy   [][]signGroup
	boundaries []barlineInk // right of each bar
	leading    barlineInk   // left of the first bar
	indent     float64
	leadingX   float64
	courtesyX  float64
	width      float64
	figures    map[*Event]*figure
	edges      edges // of spacing
	// tied are the ties of the line, by the note that each begins at, and arrived the notes
	// that they lead to.
	tied      map[*Note]tieTip
	arrived   map[*Note]bool
	crossTies []crossTie
	// arches are the slurs from staff to staff as they were laid, and reserved those
	// that are kept clear of.
	arches, reserved []arch
}

// staffInk is one staff of a line: its drawing around the middle line at y = 0.
type staffInk struct {
	*ink
	index int
	lines int
	sky   *sky
	// figures in order of time, rests and hidden ones left out.
	figures []*figure
	sung    []*figure       // what has syllables, seen or unseen
	trills  []display.Point // where trill signs stand
	y       float64         // of the middle line in the system
	size    float64         // of all of it, against full size
}

// newSystem spaces a line's bars to the wanted width. usual is the stretch of the
// line before, for a last line that stays short.
func (l *Layout) newSystem(first, end int, usual float64) (s *system, stretch float64) {
	s = &system{l: l, first: first, end: end, figures: map[*Event]*figure{}}
	s.indent = l.indentOf(first)
	s.head = l.prefix(first)
	s.courtesy = l.courtesy(end)
	for bar := first; bar < end; bar++ {
		s.bars = append(s.bars, l.planBar(bar, bar == first))
		next := Barline{}
		if bar+1 < end {
			next = l.music.Bars[bar+1].Left
		}
		s.boundaries = append(s.boundaries, boundary(l.music.Bars[bar].Right, next))
	}
	// A line begins with no barline but that of a repeat.
	if left := l.music.Bars[first].Left; left.Repeat || left.Style == BarHeavyThin {
		s.leading = boundary(Barline{Style: BarNone}, left)
	}
	stretch = s.stretch(usual)
	s.width = s.place(stretch)
	return s, stretch
}

// stretch finds the factor of the ideal distances that fills the line.
func (s *system) stretch(usual float64) float64 {
	target := s.l.width
	if s.l.o.Ragged && s.place(1) < target {
		return 1
	}
	usual = max(1, usual)
	if s.end == s.l.to && !s.l.o.Justify && s.place(usual) < target*0.82 && s.place(1.7) < target {
		return min(1.25, usual)
	}
	return s.fill(target)
}

// The most that ideal distances are stretched, and how exactly that is found.
const (
	mostStretch = 16.0
	exactness   = mostStretch / (1 << 36)
)

// fill finds the stretch at which the line is as wide as wanted: its width grows with
// the stretch, in straight pieces, so that a line through the ends of what is left
// soon meets it; each third step halves what is left.
func (s *system) fill(target float64) float64 {
	low, high := 0.0, mostStretch
	narrow, wide := s.place(low), s.place(high)
	if wide < target {
		return high
	}
	for step := 1; high-low > exactness; step++ {
		middle := (low + high) / 2
		if step%3 != 0 && wide > narrow {
			middle = low + (high-low)*(target-narrow)/(wide-narrow)
			middle = max(low+exactness/2, min(middle, high-exactness/2))
		}
		if w := s.place(middle); w < target {
			low, narrow = middle, w
		} else {
			high, wide = middle, w
		}
	}
	return low
}

// place gives every bar its x for a stretch and returns the width of the line.
func (s *system) place(stretch float64) float64 {
	x := s.indent
	for _, c := range s.head {
		if w := widest(c); w > 0 {
			x += signGap*0.75 + w
		}
	}
	s.leadingX = x
	if !s.leading.empty() {
		s.leadingX = x + 0.6
		x = s.leadingX + s.leading.width
	} else if x > s.indent {
		x += 0.3
	}
	e := &s.edges
	e.rows = e.rows[:0]
	for i, p := range s.bars {
		p.x = x
		x = s.l.spaceBar(p, x, stretch, e)
		if i == len(s.bars)-1 {
			x = max(x, textEdge(e.rows))
		}
		p.end = x
		x += s.boundaries[i].width
	}
	s.courtesyX = x
	for _, c := range s.courtesy {
		if w := widest(c); w > 0 {
			x += signGap*0.75 + w
		}
	}
	if x > s.courtesyX {
		x += 0.4
	}
	return x
}

// draw lists what is drawn on the line. Where slurs lead from staff to staff it is
// drawn twice: their places follow from those of the staves, and what stands
// outside the staves keeps clear of them.
func (s *system) draw() display.System {
	top, bottom, over := s.drawStaves()
	if len(s.arches) > 0 {
		s.staves, s.reserved = nil, s.arches
		top, bottom, over = s.drawStaves()
	}
	list := display.System{
		First: s.first + 1, Last: s.end, Width: display.Spaces(s.totalWidth()), Height: display.Spaces(bottom - top),
		Label: s.l.tell.label(s.l.music, s.first, s.end), Large: s.l.o.LargePrint, Space: s.l.o.Space, Over: over,
	}
	frame := &ink{large: s.l.o.LargePrint}
	s.drawFrame(frame, top)
	list.Frame = frame.items
	for _, st := range s.shown() {
		list.Staves = append(list.Staves, display.Staff{Y: display.Spaces(st.y - top), Lines: st.lines, Items: st.items})
	}
	return list
}

// drawStaves draws every staff, puts them one below the other, and draws what
// reaches from one to the other.
func (s *system) drawStaves() (top, bottom float64, over display.List) {
	s.prepare()
	for _, st := range s.shown() {
		s.drawStaff(st.index)
	}
	top, bottom = s.stack()
	return top, bottom, s.drawOver(top)
}

// totalWidth leaves the line its full length, but where lines are to be ragged.
func (s *system) totalWidth() float64 {
	if s.l.o.Ragged {
		return s.width + 0.2
	}
	return max(s.width, s.l.width) + 0.2
}

// prepare gives figures their x and fits beams and stems.
func (s *system) prepare() {
	for i := range s.l.music.Staves {
		lines := s.linesAt(i, s.first)
		s.staves = append(s.staves, &staffInk{size: 1, ink: &ink{large: s.l.o.LargePrint, owner: display.Owner{Staff: int32(i + 1)}}, index: i, lines: lines, sky: newSky(s.width+2, lines)})
	}
	for _, p := range s.bars {
		for _, c := range p.columns {
			for i := range c.cells {
				for _, f := range slices.Concat(c.cells[i].hidden, c.cells[i].figures) {
					f.x, f.bar = c.x, p.index
					s.figures[f.event] = f
					if len(f.event.Lyrics) > 0 {
						s.staves[i].sung = append(s.staves[i].sung, f)
					}
				}
				for _, f := range c.cells[i].figures {
					if !f.isRest() {
						s.staves[i].figures = append(s.staves[i].figures, f)
					}
				}
			}
		}
		for _, g := range p.groups {
			g.fit()
		}
		p.clearBeams()
	}
	for _, st := range s.staves {
		for _, f := range st.figures {
			if f.group == nil && f.cross == nil && f.stem {
				f.fitStem()
			}
		}
		for _, p := range s.bars {
			for _, c := range p.crossing {
				c.reserve(st)
			}
		}
		s.reserveArches(st)
	}
	for _, p := range s.bars {
		s.placeCentered(p)
	}
	s.pairTies()
}

func (s *system) placeCentered(p *barPlan) {
	for _, f := range p.centered {
		f.bar = p.index
		f.x = (p.start+p.end-p.closingWidth())/2 - f.rest.shape.width()/2
		p.clearCentered(f)
		f.arrangeDots()
		s.figures[f.event] = f
	}
}

// drawStaff draws everything of one staff, from the notes outwards.
func (s *system) drawStaff(i int) {
	st := s.staves[i]
	s.staffLines(st)
	s.drawHead(st)
	for n, p := range s.bars {
		if s.hiddenAt(i, p.index) {
			continue
		}
		st.ofBar(p.index)
		st.begin(display.RoleBar, s.l.music.sourceOf(p.index))
		st.lines = s.linesAt(i, p.index)
		s.drawBar(st, p)
		s.boundaries[n].draw(st.ink, p.end, st.lines)
		st.end()
	}
	st.lines = s.linesAt(i, s.first)
	st.ofBar(-1)
	st.groups(s.courtesy, s.courtesyX)
	s.drawTies(st)
	s.drawSlides(st)
	st.drawTremolos()
	s.drawArticulations(st, false)
	s.drawTuplets(st)
	s.drawSlurs(st)
	s.drawArticulations(st, true)
	s.drawLevels(st)
	s.drawSpanners(st)
	s.drawMarks(st)
	s.drawLyrics(st)
	if size := s.l.sizes[i]; size < 1 {
		s.drawTogether(st, size)
	}
}

// edges are the heights of the staff's outer lines.
func (st *staffInk) edges() (top, bottom float64) {
	return y(topLine(st.lines)) * st.size, y(bottomLine) * st.size
}

// staffLines draws the lines of the staff, in one stroke as far as their number
// stays the same.
func (s *system) staffLines(st *staffInk) {
	from, lines := s.indent, st.lines
	stroke := func(to float64) {
		for i := range lines {
			height := y(bottomLine + 2*i)
			st.line(display.RoleStaffLine, from, height, to, height)
		}
	}
	there := true
	for n, p := range s.bars {
		if hidden := s.hiddenAt(st.index, p.index); hidden == there {
			if there = !hidden; hidden && n > 0 {
				stroke(s.bars[n-1].end + s.boundaries[n-1].width)
			}
			from = p.x
		}
		if now := s.linesAt(st.index, p.index); there && now != lines {
			stroke(p.x)
			from, lines = p.x, now
		}
	}
	if there {
		stroke(s.width)
	}
}

// shown are the staves that the line has: those that are not hidden in all its bars.
func (s *system) shown() []*staffInk {
	return slices.DeleteFunc(slices.Clone(s.staves), func(st *staffInk) bool { return !shownIn(&s.l.music.Staves[st.index], s.first, s.end) })
}

// hiddenAt reports whether a staff is not there in a bar.
func (s *system) hiddenAt(staff, bar int) bool { return s.l.music.Staves[staff].Measures[bar].Hidden }

// linesAt is the number of staff lines in a bar.
func (s *system) linesAt(staff, bar int) int {
	return s.l.states[staff][bar].opened(&s.l.music.Staves[staff].Measures[bar]).lines
}

// drawHead draws clef, key and time at the head of the line.
func (s *system) drawHead(st *staffInk) {
	st.groups(s.head, s.indent)
	if !s.leading.empty() {
		s.leading.draw(st.ink, s.leadingX, st.lines)
	}
}

// groups draws what a staff has in columns of signs, side by side from x on.
func (st *staffInk) groups(columns [][]signGroup, x float64) {
	for _, column := range columns {
		if w := widest(column); w > 0 {
			x += signGap * 0.75
			st.group(column[st.index], x)
			x += w
		}
	}
}

// group draws a clef, key or time signature at x.
func (st *staffInk) group(g signGroup, x float64) {
	if g.empty() {
		return
	}
	if g.barline != nil {
		g.barline.draw(st.ink, x, st.lines)
		return
	}
	st.begin(g.role, 0)
	for _, sign := range g.signs {
		st.sign(g.role, sign.shape, x+sign.dx, sign.y, "")
		st.sky.glyph(sign.shape, x+sign.dx, sign.y)
	}
	for _, t := range g.texts {
		st.text(t.role, display.Middle, t.text, x+t.dx, t.y)
		st.sky.add(x, x+g.width, t.y-1.2, t.y+0.2)
	}
	st.end()
}

// stack puts the staves one below the other and returns the outer edges.
func (s *system) stack() (top, bottom float64) {
	const gap, least = 1.2, 10.0
	at := 0.0
	shown := s.shown()
	for i, st := range shown {
		if i > 0 {
			upper := shown[i-1]
			at += max(upper.sky.drop(st.sky, gap), (least-2+float64(upper.lines-1)/2)*min(upper.size, st.size))
		}
		st.y = at
	}
	top, bottom = -2.5, 2.5
	for _, st := range shown {
		t, b := st.sky.height()
		top, bottom = min(top, st.y+t), max(bottom, st.y+b)
	}
	return math.Floor(top*2)/2 - 0.5, math.Ceil(bottom*2)/2 + 0.5
}
