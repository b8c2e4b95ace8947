package engraving

import (
	"sort"

	"deskpart/musicxml/engraving/display"
)

// level is a dynamic, hairpin or dashed line, or words among them: they share a
// height with their neighbours.
type level struct {
	bar         int
	left, right float64
	above       bool
	mark        *Mark
	letters     lettering
	hairpin     *Spanner
	dashes      *Spanner
	// from and to are the shares of the whole hairpin that stand on this line.
	from, to float64
	// begins and ends tell whether its own ends are on this line.
	begins, ends bool
}

// drawLevels draws the dynamics, hairpins and dashes of a staff, those above and
// those below, in chains that share a height.
func (s *system) drawLevels(st *staffInk) {
	list := append(s.levelMarks(st), s.levelSpans(st)...)
	for i := range list {
		list[i].above = s.clearOfCrossing(st, &list[i])
	}
	for _, above := range []bool{true, false} {
		var side []level
		for _, v := range list {
			if v.above == above {
				side = append(side, v)
			}
		}
		sort.SliceStable(side, func(i, j int) bool { return side[i].left < side[j].left })
		setLevels(side, s.width)
		var notices []notice
		for i := range side {
			notices = append(notices, side[i].notice(st))
		}
		st.place(notices, shelf{above: above, gap: 0.6, between: 0.1, reach: 6, least: 2.0})
	}
}

// clearOfCrossing is the side of a dynamic or hairpin: where stems lead to a beam
// between the staves, it stands on the outside.
func (s *system) clearOfCrossing(st *staffInk, v *level) bool {
	for _, p := range s.bars {
		for _, c := range p.crossing {
			first, last := c.members[0].stemX()-1, c.members[len(c.members)-1].stemX()+1
			if v.right < first || v.left > last {
				continue
			}
			for _, f := range c.members {
				if f.staff.index == st.index && f.towards() {
					return !f.up
				}
			}
		}
	}
	if upper, crossed := s.slurCrosses(st, v); crossed {
		return upper
	}
	return v.above
}

// slurCrosses reports whether a slur or tie from staff to staff passes a dynamic or
// hairpin, and whether this staff is the upper one.
func (s *system) slurCrosses(st *staffInk, v *level) (upper, crossed bool) {
	for _, t := range s.crossTies {
		from, to := t.from.staff.index, t.tip.to.staff.index
		if (from == st.index || to == st.index) && t.from.x < v.right && t.tip.to.x+1 > v.left {
			return st.index == min(from, to), true
		}
	}
	for i := range s.l.slurs {
		sl := &s.l.slurs[i]
		if _, crosses := s.slurStaff(sl); !crosses || sl.fromStaff != st.index && sl.toStaff != st.index {
			continue
		}
		from, to := s.figures[sl.from], s.figures[sl.to]
		if from != nil && to != nil && from.x < v.right && to.x+1 > v.left {
			return st.index == min(sl.fromStaff, sl.toStaff), true
		}
	}
	return false, false
}

// levelMarks are the dynamics of a staff on this line and the words among them.
func (s *system) levelMarks(st *staffInk) []level {
	var list []level
	for _, p := range s.bars {
		marks := s.l.music.Staves[st.index].Measures[p.index].Marks
		for i := range marks {
			m, x := &marks[i], s.xAt(p.index, marks[i].Onset)
			if m.Kind != MarkDynamic && !m.onLevel() {
				continue
			}
			v := level{bar: p.index, mark: m, letters: letteringOf(m), above: m.Side == Above, begins: true, ends: true}
			v.left = x
			if m.Kind == MarkDynamic {
				v.left = x + 0.6 - v.letters.anchor()/2
			}
			if m.Kind == MarkDynamic && s.barlinePasses(st, v.above) {
				const air = 0.25 + dynamicTail
				v.left = min(v.left, p.end-air-v.letters.width())
				v.left = max(v.left, p.x+air)
			}
			v.right = v.left + v.letters.width()
			list = append(list, v)
		}
	}
	return list
}

// barlinePasses reports whether barlines go on above or below a staff, to the next.
func (s *system) barlinePasses(st *staffInk, above bool) bool {
	for _, g := range s.l.music.Groups {
		if g.Barlines && st.index >= g.From && st.index <= g.To && (above && st.index > g.From || !above && st.index < g.To) {
			return true
		}
	}
	return false
}

// anchor is the width of the letters that stand centred under the note: those of
// the dynamic, without words that follow.
func (l *lettering) anchor() float64 {
	if len(l.lines) == 1 && len(l.lines[0]) > 1 && l.lines[0][0].Dynamic != "" {
		return l.pieceWidth(l.lines[0][0])
	}
	return l.wide
}

// onLevel tells whether words stand among the dynamics.
func (m *Mark) onLevel() bool { return m.Kind == MarkWords && m.Side == Below }

// levelSpans are the hairpins and dashed lines of a staff on this line.
func (s *system) levelSpans(st *staffInk) []level {
	var list []level
	spans := s.l.music.Staves[st.index].Spanners
	for i := range spans {
		sp := &spans[i]
		if !s.shows(sp) {
			continue
		}
		v := level{bar: max(sp.From.Bar, s.first), begins: sp.From.Bar >= s.first, ends: sp.To.Bar < s.end}
		v.left, v.right = s.spannerEnds(sp)
		switch sp.Kind {
		case Crescendo, Diminuendo:
			v.hairpin, v.above = sp, sp.Side == Above
			v.from, v.to = s.shares(sp)
		case DashedLine:
			v.dashes, v.above = sp, sp.Side != Below
			if v.begins {
				v.right = max(v.right, v.left+textWidth(display.RoleWords, sp.Text)+1)
			}
		default:
			continue
		}
		list = append(list, v)
	}
	return list
}

// shows reports whether a part of a spanner is on this line.
func (s *system) shows(sp *Spanner) bool {
	if sp.From.Bar >= s.end || sp.To.Bar < s.first {
		return false
	}
	return sp.To.Bar != s.first || sp.From.Bar == s.first || sp.To.Onset.Sign() > 0
}

// shares are the parts of a spanner's time before this line and up to its end.
func (s *system) shares(sp *Spanner) (from, to float64) {
	at := func(m Moment) float64 { return s.l.starts[m.Bar].Add(m.Onset).Float() }
	begin, whole := at(sp.From), at(sp.To)-at(sp.From)
	from, to = 0, 1
	if whole <= 0 {
		return from, to
	}
	if sp.From.Bar < s.first {
		from = (at(Moment{Bar: s.first}) - begin) / whole
	}
	if sp.To.Bar >= s.end {
		to = (at(Moment{Bar: s.end - 1, Onset: s.bars[len(s.bars)-1].length}) - begin) / whole
	}
	return max(0, min(from, 1)), max(0, min(to, 1))
}

const (
	dynamicGap    = 1.3 // between dynamics
	levelGap      = 0.6 // between a dynamic and a hairpin beside it
	shortestWedge = 1.6
	// A hairpin gives way by no more than this, or this share of its length, so that it
	// is seen under its own notes.
	nearShift = 3.0
	lateShare = 0.5
	// How far f and p reach beyond their letters' width, at either end.
	dynamicTail = 0.4
	dynamicHead = 0.15
)

// setLevels lets hairpins and dashes give way to the letters beside them: words
// follow the dynamic at their own place, hairpins begin after letters and end
// before them, and a dynamic ends dashes.
func setLevels(list []level, width float64) {
	for i := range list {
		if m := list[i].mark; m != nil && m.Kind == MarkWords {
			list[i].followDynamic(list)
		}
	}
	partDynamics(list)
	for i := range list {
		for k := range list {
			if list[i].mark == nil && list[k].mark != nil {
				list[i].giveWay(list[k].inked())
			}
		}
	}
	for i := range list {
		for k := range list[i+1:] {
			list[i].meet(&list[i+1+k])
		}
	}
	for i := range list {
		list[i].keepWithin(width)
	}
}

// partDynamics keeps dynamics of different moments so far apart that they are not
// read as one.
func partDynamics(list []level) {
	var before *level
	for i := range list {
		v := &list[i]
		if v.mark == nil || v.mark.Kind != MarkDynamic {
			continue
		}
		if before != nil && before.bar == v.bar && before.mark.Onset != v.mark.Onset {
			if shift := before.right + dynamicGap - v.left; shift > 0 && shift < 2 {
				v.left, v.right = v.left+shift, v.right+shift
			}
		}
		before = v
	}
}

// keepWithin moves letters left that would run over the end of the line.
func (v *level) keepWithin(width float64) {
	over := v.right - width
	if v.dashes != nil && v.begins {
		over = v.left + textWidth(display.RoleWords, v.dashes.Text) - width
	}
	if over > 0 && (v.mark != nil || v.dashes != nil) {
		v.left, v.right = v.left-over, min(v.right, width)
	}
}

// followDynamic moves words to the right of the dynamic that they begin at.
func (v *level) followDynamic(list []level) {
	for k := range list {
		d := &list[k]
		if d.mark == nil || d.mark.Kind != MarkDynamic || d.bar != v.bar || d.mark.Onset != v.mark.Onset {
			continue
		}
		if shift := d.right + levelGap - v.left; shift > 0 {
			v.left, v.right = v.left+shift, v.right+shift
		}
	}
}

// inked is the level with the tails of f and p.
func (v *level) inked() level {
	with := *v
	if v.mark != nil && v.mark.Kind == MarkDynamic {
		with.left, with.right = v.left-dynamicTail, v.right+dynamicHead
	}
	return with
}

// giveWay shortens a hairpin or dashes for letters.
func (v *level) giveWay(letters level) {
	if letters.right+levelGap <= v.left || letters.left-levelGap >= v.right {
		return
	}
	middle := (letters.left + letters.right) / 2
	shift := letters.right + levelGap - v.left // to begin behind the letters
	switch {
	case v.dashes != nil:
		v.dashGivesWay(&letters)
	case letters.left <= v.left+1.0 && v.right-v.left-shift >= shortestWedge && shift <= max(nearShift, (v.right-v.left)*lateShare):
		v.left += shift
	case middle >= v.right-max(1.6, v.lateRoom(&letters)) && letters.left-levelGap-v.left >= shortestWedge && v.right-letters.left+levelGap <= max(nearShift, (v.right-v.left)*lateShare):
		v.right = letters.left - levelGap
	case letters.left <= v.left+1.0 && shift <= nearShift:
		// No room: the hairpin keeps its least length, as far as the line goes.
		v.left += shift
		v.right = max(v.right, v.left+shortestWedge)
	}
	// Otherwise it stays at its notes, in a row of its own.
}

// lateRoom is how far from its end a hairpin may have a dynamic that it leads to, though
// the source has the end later.
func (v *level) lateRoom(letters *level) float64 {
	if letters.mark.Kind == MarkWords {
		return 0
	}
	return min((v.right-v.left)*0.25, nearShift)
}

// meet parts two hairpins or dashes where the second begins as the first ends.
func (v *level) meet(next *level) {
	const gap = 0.4
	over := v.right + gap - next.left
	if v.mark != nil || next.mark != nil || over <= 0 || over > 2 || next.left <= v.left {
		return
	}
	v.right, next.left = v.right-over/2, next.left+over/2
}

// dashGivesWay ends dashes before a dynamic or words that stand on their way.
func (v *level) dashGivesWay(letters *level) {
	own := v.left
	if v.begins {
		own += textWidth(display.RoleWords, v.dashes.Text)
	}
	if letters.left >= own+0.3 {
		v.right = min(v.right, letters.left-levelGap)
	}
}

// notice is the level with its extent and how it is drawn.
func (v *level) notice(st *staffInk) notice {
	n := notice{left: v.left, right: v.right, up: 0.75, down: 0.75, bar: v.bar}
	switch {
	case v.mark != nil:
		// Letters stand with their middle on the axis.
		drop := 0.5
		n.up, n.down = v.letters.up()-drop, v.letters.down()+drop
		n.rank = 0
		if v.mark.Kind == MarkWords {
			n.rank = 2
		} else {
			n.left, n.right = n.left-dynamicTail, n.right+dynamicTail
		}
		n.draw = func(at float64) { v.letters.draw(st.ink, v.left, at+drop) }
	case v.hairpin != nil:
		n.rank = 1
		n.draw = func(at float64) { st.hairpin(v, at) }
	default:
		n.rank, n.up, n.down = 2, 0.9, 0.9
		if v.dashes.Text == "" || !v.begins {
			n.up, n.down = 0.1, 0.1
		}
		n.draw = func(at float64) { st.dashedLine(v, at) }
	}
	return n
}

// wedge is half the opening of a hairpin.
const wedge = 0.65

// hairpin draws a hairpin, or the piece of one that stands on this line: it goes
// on as wide as it was on the line before.
func (st *staffInk) hairpin(v *level, at float64) {
	const narrowest = 0.18 // of what goes on from or to another line
	open1, open2 := v.from, v.to
	if v.hairpin.Kind == Diminuendo {
		open1, open2 = 1-v.from, 1-v.to
	}
	if !v.begins {
		open1 = max(open1, narrowest)
	}
	if !v.ends {
		open2 = max(open2, narrowest)
	}
	y1, y2 := wedge*open1, wedge*open2
	if v.hairpin.Niente {
		st.niente(v, at, y1, y2)
	}
	switch {
	case y1 == 0:
		st.line(display.RoleHairpin, v.right, at-y2, v.left, at, v.right, at+y2)
	case y2 == 0:
		st.line(display.RoleHairpin, v.left, at-y1, v.right, at, v.left, at+y1)
	default:
		st.line(display.RoleHairpin, v.left, at-y1, v.right, at-y2)
		st.line(display.RoleHairpin, v.left, at+y1, v.right, at+y2)
	}
}

// niente draws the circle at the closed end of a hairpin.
func (st *staffInk) niente(v *level, at, y1, y2 float64) {
	const r = 0.35
	switch {
	case y1 == 0:
		st.oval(display.RoleHairpin, v.left, at-r, v.left+2*r, at+r)
		v.left += 2 * r
	case y2 == 0:
		st.oval(display.RoleHairpin, v.right-2*r, at-r, v.right, at+r)
		v.right -= 2 * r
	}
}

// dashedLine writes its word and goes on with dashes.
func (st *staffInk) dashedLine(v *level, at float64) {
	left := v.left
	if text := v.dashes.Text; text != "" && v.begins {
		st.text(display.RoleWords, display.Start, text, left, at+0.45)
		left += textWidth(display.RoleWords, text) + 0.4
	}
	if v.right-left > 1.2 {
		st.line(display.RoleDashes, left, at, v.right-0.2, at)
	}
}
