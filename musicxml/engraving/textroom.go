package engraving

import (
	"cmp"
	"strconv"

	"deskpart/musicxml/engraving/display"
)

// planMarks adds the room of the marks of one staff: dynamics first, which words
// follow.
func (l *Layout) planMarks(p *barPlan, s int) {
	marks := l.music.Staves[s].Measures[p.index].Marks
	for _, dynamics := range []bool{true, false} {
		for i := range marks {
			if (marks[i].Kind == MarkDynamic) == dynamics {
				l.addMarkRow(p, s, &marks[i])
			}
		}
	}
	for i := range l.music.Staves[s].Spanners {
		sp := &l.music.Staves[s].Spanners[i]
		if octaveTexts[sp.Kind] != "" {
			l.planOctaveLine(p, s, sp)
		} else if sp.From.Bar == p.index {
			l.planSpanner(p, s, sp)
		}
	}
}

// planSpanner adds the room that a hairpin or the words of a dashed line need where
// they begin.
func (l *Layout) planSpanner(p *barPlan, s int, sp *Spanner) {
	row, side := textRow{left: 0.2}, sp.Side
	switch {
	case sp.Kind == DashedLine && sp.Text != "":
		row.right = textWidth(display.RoleWords, sp.Text) + 1
		side = cmp.Or(side, Above)
	case sp.Kind == Crescendo || sp.Kind == Diminuendo:
		row.right = row.left + shortestWedge + levelGap
	default:
		return
	}
	row.key = rowKey(&Mark{Kind: MarkDynamic, Side: side})
	c := p.columnAt(sp.From.Onset, 0, len(l.music.Staves))
	c.cells[s].follow(&row)
	c.cells[s].rows = append(c.cells[s].rows, row)
}

// planOctaveLine keeps the room that the figure of an octave line needs over its own
// notes: to the first that it does not concern, or to the barline.
func (l *Layout) planOctaveLine(p *barPlan, s int, sp *Spanner) {
	for _, at := range []Moment{sp.To, sp.From} {
		if at.Bar != p.index || at == sp.To && at.Onset.Cmp(p.length) >= 0 {
			continue
		}
		row := textRow{key: "octave"}
		if at == sp.From {
			row.right = textWidth(display.RoleOctave, octaveTexts[sp.Kind]) + octaveAir + octaveHook
			row.closed = sp.To.Bar == p.index
		}
		c := p.columnAt(at.Onset, 0, len(l.music.Staves))
		for _, before := range p.columns {
			if before.onset == at.Onset && before.order > orderTime && len(before.cells[s].figures) > 0 {
				c = before // its grace notes
				break
			}
		}
		c.cells[s].rows = append(c.cells[s].rows, row)
	}
}

// addMarkRow reserves room for a mark among those of its row: they may not meet.
func (l *Layout) addMarkRow(p *barPlan, s int, m *Mark) {
	if name := signOfMark[m.Kind]; m.Kind == MarkPedal || m.Kind == MarkPedalEnd {
		row := textRow{key: "pedal", right: shape{name: name}.width() + pedalAir}
		if m.Kind == MarkPedalEnd {
			row.left, row.right = -row.right, 0
		}
		c := p.columnAt(m.Onset, 0, len(l.music.Staves))
		c.cells[s].rows = append(c.cells[s].rows, row)
		return
	} else if name != "" {
		return
	}
	if m.Diagram != nil {
		l.addDiagramRow(p, s, m)
		return
	}
	c := p.columnAt(m.Onset, 0, len(l.music.Staves))
	letters := letteringOf(m)
	row := textRow{key: rowKey(m), left: 0, right: letters.width() + 0.5}
	switch m.Kind {
	case MarkNote:
		row.left, row.right = 0.6-letters.width()/2, 0.6+letters.width()/2+0.2
	case MarkDynamic:
		row.left = 0.6 - letters.anchor()/2 - dynamicTail
		row.right = row.left + letters.width() + 2*dynamicTail
	case MarkTempo, MarkRehearsal:
		row.give = min(8, letters.width()/2)
		row.right += rehearsalBefore(l.music.Staves[s].Measures[p.index].Marks, m)
	case MarkWords:
		if m.closes(p.length) {
			row.left, row.right = -letters.width()-1, 0.5
			break
		}
		row.give = min(4, letters.width()/3)
		c.cells[s].follow(&row)
	}
	c.cells[s].rows = append(c.cells[s].rows, row)
}

// addDiagramRow reserves the room of a diagram, which stands over its note.
func (l *Layout) addDiagramRow(p *barPlan, s int, m *Mark) {
	width, _, _ := m.Diagram.extent()
	left := m.diagramDX()
	c := p.columnAt(m.Onset, 0, len(l.music.Staves))
	c.cells[s].rows = append(c.cells[s].rows, textRow{key: rowKey(m), left: left, right: left + width + 0.6})
}

// diagramDX is where a diagram begins, from the column's x: a frame with its chord
// symbol, others so that their middle is the note's.
func (m *Mark) diagramDX() float64 {
	if m.Kind == MarkFrame {
		return 0
	}
	width, _, _ := m.Diagram.extent()
	return 0.6 - width/2
}

// rowKey names the row of a mark: those that share a height.
func rowKey(m *Mark) string {
	if m.Kind == MarkDynamic || m.onLevel() {
		if m.Above() {
			return "levels above"
		}
		return "levels"
	}
	return "mark " + strconv.Itoa(int(m.Kind))
}

// follow puts words to the right of the dynamic that they begin at.
func (c *cell) follow(row *textRow) {
	for _, other := range c.rows {
		if other.key == row.key {
			row.left, row.right = other.right, other.right+row.right-row.left
		}
	}
}
