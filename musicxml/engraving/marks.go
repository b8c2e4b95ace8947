package engraving

import (
	"math"

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
	x       float64
	bar     *barPlan
	letters lettering
	// after is the width of a rehearsal mark of the same moment, which it follows.
	after float64
}

// markShelves say how the marks stand that have a row of their own, from the notes
// outwards. Dynamics and the words among them are drawn before, see drawLevels.
var markShelves = []struct {
	kinds []MarkKind
	shelf shelf
}{
	{[]MarkKind{MarkFigure}, shelf{gap: 0.5, between: 0.3, reach: 1000, least: 1.7}},
	{[]MarkKind{MarkFrame}, shelf{gap: 0.5, between: 0.3, reach: 1000, least: 1.0}},
	{[]MarkKind{MarkHarmony}, shelf{gap: 0.6, between: 0.3, reach: 1000, least: 0.9}},
	{[]MarkKind{MarkPedal, MarkPedalEnd}, shelf{gap: 0.5, between: 0.1, reach: 12, least: 2.2}},
	{[]MarkKind{MarkNote}, shelf{gap: 0.5, between: 0.2, reach: 1000, least: 1.7}},
	{[]MarkKind{MarkWords}, shelf{gap: 0.55, between: 0.3, reach: 3, least: 0.9}},
	{[]MarkKind{MarkTempo, MarkRehearsal}, shelf{gap: 0.8, between: 0.3, reach: 6, least: 1.2}},
	{[]MarkKind{MarkSegno, MarkCoda}, shelf{gap: 0.5, between: 0.3, reach: 6, least: 0.6}},
}

// drawMarks draws words and signs over and under a staff, then what stands on
// barlines, endings and bar numbers.
func (s *system) drawMarks(st *staffInk) {
	s.drawRestRanges(st)
	byKind := s.marksByKind(st)
	for _, row := range markShelves {
		for _, above := range []bool{true, false} {
			var list []notice
			for _, kind := range row.kinds {
				for _, m := range byKind[kind] {
					if m.Above() == above && !m.onLevel() {
						list = append(list, m.notice(st, s.width))
					}
				}
			}
			at := row.shelf
			at.above = above
			st.place(list, at)
		}
		if row.kinds[0] == MarkWords && st.index == 0 {
			s.drawEndings(st)
		}
	}
	s.barlineSigns(st)
	if st.index == 0 {
		s.drawNumber(st)
	}
}

func (s *system) marksByKind(st *staffInk) map[MarkKind][]placedMark {
	byKind := map[MarkKind][]placedMark{}
	for _, p := range s.bars {
		marks := s.l.music.Staves[st.index].Measures[p.index].Marks
		for i := range marks {
			m := &marks[i]
			byKind[m.Kind] = append(byKind[m.Kind], placedMark{m, s.xAt(p.index, m.Onset), p, letteringOf(m), rehearsalBefore(marks, m)})
		}
	}
	return byKind
}

// roleOfMark has the kinds of marks whose letters are no mere words.
var roleOfMark = map[MarkKind]display.Role{MarkDynamic: display.RoleDynamic, MarkTempo: display.RoleTempo, MarkRehearsal: display.RoleRehearsal,
	MarkHarmony: display.RoleHarmony, MarkFigure: display.RoleFigure, MarkNote: display.RoleNoteText}

// Above reports whether a mark stands over its staff: its Side, or where a mark of its kind
// usually stands.
func (m *Mark) Above() bool {
	if m.Side != SideAuto {
		return m.Side == Above
	}
	return m.Kind != MarkFigure && m.Kind != MarkNote && m.Kind != MarkPedal && m.Kind != MarkPedalEnd && m.Kind != MarkDynamic
}

// signOfMark is the sign that a kind of mark is.
var signOfMark = map[MarkKind]string{MarkSegno: "segno", MarkCoda: "coda", MarkPedal: "pedal", MarkPedalEnd: "pedal-end"}

// notice is the mark with its extent, within the line, and how it is drawn.
func (m placedMark) notice(st *staffInk, width float64) notice {
	if name := signOfMark[m.Kind]; name != "" {
		return m.signNotice(st, shape{name: name}, width)
	}
	if m.Diagram != nil {
		return m.diagramNotice(st, width)
	}
	l := m.letters
	left := m.x
	switch {
	case m.Kind == MarkNote:
		left = m.x + 0.6 - l.width()/2
	case m.onBar():
		left = m.bar.x + 0.3 - l.pad
	case m.closes(m.bar.length):
		left = m.x - l.width()
	case m.after > 0 && m.Onset.Sign() == 0:
		left = max(left, m.bar.x+0.3+m.after)
	case m.after > 0:
		left += m.after
	}
	left = max(0, min(left, width-l.width()))
	rank := 0
	if m.Kind == MarkRehearsal {
		rank = 1 // over a tempo that it does not find room beside
	}
	return notice{left: left, right: left + l.width(), up: l.up(), down: l.down(), bar: m.bar.index, rank: rank,
		draw: func(at float64) { l.draw(st.ink, left, at) }}
}

// rehearsalBefore is the room of the rehearsal mark that a tempo stands beside, 0 for
// none.
func rehearsalBefore(marks []Mark, tempo *Mark) float64 {
	if tempo.Kind != MarkTempo || !tempo.Above() {
		return 0
	}
	for i := range marks {
		if m := &marks[i]; m.Kind == MarkRehearsal && m.Onset == tempo.Onset && m.Above() {
			letters := letteringOf(m)
			return letters.width() + 0.6
		}
	}
	return 0
}

func (m placedMark) diagramNotice(st *staffInk, width float64) notice {
	wide, up, down := m.Diagram.extent()
	left := max(0, min(m.x+m.diagramDX(), width-wide))
	return notice{left: left, right: left + wide, up: up, down: down, bar: m.bar.index, draw: func(at float64) { m.Diagram.draw(st.ink, left, at) }}
}

func (m placedMark) signNotice(st *staffInk, sh shape, width float64) notice {
	box := sh.box()
	left := m.x
	if m.closes(m.bar.length) {
		left -= box.width()
	}
	if m.Kind == MarkPedalEnd {
		left -= box.width() + pedalAir // so that the next may follow
	}
	left = max(0, min(left, width-box.width()))
	role := display.RolePedal
	if m.Kind == MarkSegno || m.Kind == MarkCoda {
		role = display.RoleNavigation
	}
	return notice{left: left, right: left + box.width(), up: -box.top, down: box.bottom, bar: m.bar.index,
		draw: func(at float64) { st.sign(role, sh, left-box.left, at, "") }}
}

// closes reports whether words or a sign stand behind all notes of a bar of that length, so
// that they end with it ("D.C.", "To Coda").
func (m *Mark) closes(length musicxml.Fraction) bool {
	return (m.Kind == MarkWords || m.Kind == MarkCoda || m.Kind == MarkSegno) && length.Sign() > 0 && m.Onset.Cmp(length) >= 0
}

// pedalAir stands between a sign that lifts the pedal and the next that puts it down.
const pedalAir = 0.2

// onBar tells whether a mark at the start of a bar stands over its barline.
func (m placedMark) onBar() bool {
	return m.Kind == MarkRehearsal && m.Onset.Sign() == 0
}
