package engraving

import (
	"math"
	"sort"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving/display"
)

// xAt is the x of a moment in a bar: its column, or a place between columns.
func (s *system) xAt(bar int, onset musicxml.Fraction) float64 {
	p := s.bars[bar-s.first]
	before, beforeX := musicxml.Fraction{}, p.start+0.8
	for _, c := range p.columns {
		if c.order != 0 {
			continue
		}
		if c.onset == onset {
			return c.x
		}
		if onset.Less(c.onset) {
			return between(before, beforeX, c.onset, c.x, onset)
		}
		before, beforeX = c.onset, c.x
	}
	if onset.Less(p.length) {
		return between(before, beforeX, p.length, p.end, onset)
	}
	return p.end
}

func between(t0 musicxml.Fraction, x0 float64, t1 musicxml.Fraction, x1 float64, t musicxml.Fraction) float64 {
	span := t1.Sub(t0).Float()
	if math.IsNaN(span) || span <= 0 {
		return x0
	}
	return x0 + (x1-x0)*t.Sub(t0).Float()/span
}

// placedMark is a mark with its x on this line.
type placedMark struct {
	*Mark
	x   float64
	bar *barPlan
}

// markOrder is the order in which marks are laid on the staff's outside, from the
// notes outwards.
var markOrder = []MarkKind{MarkDynamic, MarkFigure, MarkHarmony, MarkWords, MarkPedal, MarkPedalEnd, MarkNote, MarkTempo, MarkMetronome, MarkSegno, MarkCoda, MarkRehearsal}

// drawMarks draws words and signs over and under a staff, then endings and bar
// numbers.
func (s *system) drawMarks(st *staffInk) {
	byKind := map[MarkKind][]placedMark{}
	for _, p := range s.bars {
		marks := s.l.music.Staves[st.index].Measures[p.index].Marks
		for i := range marks {
			x := s.xAt(p.index, marks[i].Onset)
			byKind[marks[i].Kind] = append(byKind[marks[i].Kind], placedMark{&marks[i], x, p})
		}
	}
	for _, kind := range markOrder {
		list := byKind[kind]
		sort.SliceStable(list, func(i, j int) bool { return list[i].x < list[j].x })
		switch kind {
		case MarkHarmony, MarkFigure, MarkNote:
			st.drawRow(list)
		case MarkDynamic:
			// Drawn with the hairpins, see drawSpanners.
		default:
			for _, m := range list {
				if !m.onLevel() { // those are drawn with the dynamics
					st.drawMark(m)
				}
			}
		}
	}
	s.barlineSigns(st)
	if st.index == 0 {
		s.drawEndings(st)
		s.drawNumbers(st)
	}
}

// markRole is the role of a mark's letters, which have their size from it.
func markRole(kind MarkKind) (size float64, role display.Role) {
	role = display.RoleWords
	switch kind {
	case MarkTempo, MarkMetronome:
		role = display.RoleTempo
	case MarkRehearsal:
		role = display.RoleRehearsal
	case MarkHarmony:
		role = display.RoleHarmony
	case MarkFigure:
		role = display.RoleFigure
	case MarkNote:
		role = display.RoleNoteText
	}
	return lettersOf[role].size, role
}

// drawRow draws texts that share a baseline on the line: chord symbols above,
// figures and lesson texts below.
func (st *staffInk) drawRow(list []placedMark) {
	if len(list) == 0 {
		return
	}
	size, role := markRole(list[0].Kind)
	for _, up := range []bool{true, false} {
		var row []placedMark
		most := 1
		for _, m := range list {
			if m.above() == up {
				row = append(row, m)
				most = max(most, len(splitLines(m.Text)))
			}
		}
		if len(row) > 0 {
			st.drawRowAt(row, size, role, up, most)
		}
	}
}

func (m placedMark) above() bool {
	switch m.Side {
	case Above:
		return true
	case Below:
		return false
	}
	return m.Kind != MarkFigure && m.Kind != MarkNote && m.Kind != MarkPedal && m.Kind != MarkPedalEnd && m.Kind != MarkDynamic
}

func (st *staffInk) drawRowAt(row []placedMark, size float64, role display.Role, up bool, most int) {
	baseline := st.sky.bottom + 0.6 + size*0.75
	if up {
		baseline = st.sky.top - 0.9 - float64(most-1)*size*1.1
	}
	for _, m := range row {
		left, right := m.span(size)
		if up {
			baseline = min(baseline, st.sky.above(left, right)-0.6-float64(most-1)*size*1.1)
		} else {
			baseline = max(baseline, st.sky.below(left, right)+0.5+size*0.75)
		}
	}
	for _, m := range row {
		left, right := m.span(size)
		anchor, x := display.Start, m.x
		st.ofBar(m.bar.index)
		if m.Kind == MarkNote {
			anchor, x = display.Middle, m.x+0.6
		}
		for i, text := range splitLines(m.Text) {
			st.text(role, anchor, text, x, baseline+float64(i)*size*1.1)
		}
		st.sky.add(left, right, baseline-size*0.75, baseline+float64(most-1)*size*1.1+size*0.25)
	}
}

// span is the extent of a mark's text.
func (m placedMark) span(size float64) (left, right float64) {
	width := 0.0
	for _, text := range splitLines(m.Text) {
		width = max(width, textWidth(text, size))
	}
	if m.Kind == MarkNote {
		return m.x + 0.6 - width/2, m.x + 0.6 + width/2
	}
	return m.x, m.x + width
}

// drawMark draws one mark clear of everything there.
func (st *staffInk) drawMark(m placedMark) {
	st.ofBar(m.bar.index)
	if glyph := map[MarkKind]string{MarkSegno: "segno", MarkCoda: "coda", MarkPedal: "pedal", MarkPedalEnd: "pedal-end"}[m.Kind]; glyph != "" {
		st.markGlyph(m, shape{name: glyph})
		return
	}
	size, role := markRole(m.Kind)
	if m.Kind == MarkMetronome {
		st.metronome(m, size)
		return
	}
	lines := splitLines(m.Text)
	x := m.x
	if m.onBar() {
		x = m.bar.x + 0.3
	}
	left, right := x, x+textWidth(m.Text, size)
	extra := float64(len(lines)-1) * size * 1.1
	pad := 0.0
	if m.Kind == MarkRehearsal {
		pad = 0.4
		left, right = left-pad, right+pad
	}
	baseline := st.clear(left, right, m.above(), 0.6+pad, size*0.75)
	if m.above() {
		baseline -= extra + size*0.2
	}
	for i, text := range lines {
		st.text(role, display.Start, text, x, baseline+float64(i)*size*1.1)
	}
	top, bottom := baseline-size*0.78-pad, baseline+extra+size*0.22+pad*0.6
	if m.Kind == MarkRehearsal {
		st.outline(display.RoleRehearsalBox, left, top, right, top, right, bottom, left, bottom)
	}
	st.sky.add(left, right, top, bottom)
}

// onBar tells whether a mark at the start of a bar stands over its barline.
func (m placedMark) onBar() bool {
	return m.Kind == MarkRehearsal && m.Onset.Sign() == 0
}

func (st *staffInk) markGlyph(m placedMark, sh shape) {
	box := sh.box()
	var at float64
	if m.above() {
		at = st.sky.above(m.x, m.x+sh.width()) - 0.5 - box.bottom
	} else {
		at = st.sky.below(m.x, m.x+sh.width()) + 0.5 - box.top
	}
	role := display.RolePedal
	if m.Kind == MarkSegno || m.Kind == MarkCoda {
		role = display.RoleNavigation
	}
	st.sign(role, sh, m.x-box.left, at, "")
	st.sky.glyph(sh, m.x-box.left, at)
}

// metronome draws a small note and its number.
func (st *staffInk) metronome(m placedMark, size float64) {
	lead := 0.0
	if m.Before != "" {
		lead = textWidth(m.Before, size)*1.06 + 0.6
	}
	width := lead + 1.2 + 0.5*float64(m.Dots) + textWidth(m.Text, size) + 0.4
	if m.Value >= Eighth {
		width += 0.7
	}
	baseline := st.clear(m.x, m.x+width, true, 0.8, size)
	x := m.x + lead
	if m.Before != "" {
		st.text(display.RoleTempo, display.Start, m.Before, m.x, baseline)
	}
	head := shape{headName(&Note{}, m.Value), true}
	st.sign(display.RoleTempoNote, head, x, baseline-0.4, "")
	w := head.width()
	if m.Value.hasStem() {
		stem := x + w - 0.06
		st.line(display.RoleTempoStem, stem, baseline-0.5, stem, baseline-2.7)
		if m.Value >= Eighth {
			st.sign(display.RoleTempoNote, shape{"flag-" + min(m.Value, Value128).String() + "-up", true}, stem-0.06, baseline-2.7, "")
			w += 0.7
		}
	}
	for i := range m.Dots {
		st.sign(display.RoleTempoNote, shape{"dot", true}, x+w+0.25+0.4*float64(i), baseline-0.4, "")
	}
	st.text(display.RoleTempo, display.Start, m.Text, x+w+0.4+0.5*float64(m.Dots), baseline)
	st.sky.add(m.x, m.x+width, baseline-2.8, baseline+size*0.22)
}
