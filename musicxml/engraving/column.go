package engraving

import (
	"sort"
	"strconv"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving/display"
)

// column is a moment of a bar across all staves. Its x is the left edge of
// ordinary note heads.
type column struct {
	onset musicxml.Fraction
	// order sorts columns of one onset: signs first, then grace notes from far to
	// near, then the notes (0).
	order int
	cells []cell
	x     float64
	// silent events take their time unseen.
	silent []*Event
	// ideal is the wanted distance to the next column of order 0 or the end of
	// the bar.
	ideal float64
}

// The orders of signs before the notes of a moment.
const (
	orderBarline = -301 + iota
	orderClef
	orderKey
	orderTime
)

// cell is what one staff has in a column.
type cell struct {
	figures     []*figure
	accidentals []accidentalInk
	group       signGroup
	// left and right bound the ink around the column's x; filled says whether
	// there is any.
	left, right float64
	filled      bool
	// rows are texts that must not meet their neighbours of the same row.
	rows []textRow
}

// textRow is the extent of a syllable or chord symbol around the column's x.
type textRow struct {
	key         string
	left, right float64
	// give is how far the text may be moved left to stay within its line.
	give float64
}

// barPlan is one bar of all staves, ready to be spaced.
type barPlan struct {
	index   int
	columns []*column
	// closing are clef changes of the next bar, drawn before this bar's barline.
	closing []cell
	// centered are whole-bar rests.
	centered []*figure
	groups   []*beamGroup
	// crossing are beams with notes on several staves.
	crossing []*crossGroup
	// arpeggios reach over several staves.
	arpeggios []crossArpeggio
	length    musicxml.Fraction
	// x, start, end are set by spacing: the left barline, where music begins, and
	// the right barline.
	x, start, end float64
}

// columnAt returns the column of a moment, adding it in order.
func (p *barPlan) columnAt(onset musicxml.Fraction, order, staves int) *column {
	i := sort.Search(len(p.columns), func(i int) bool {
		c := p.columns[i]
		if cmp := c.onset.Cmp(onset); cmp != 0 {
			return cmp > 0
		}
		return c.order >= order
	})
	if i < len(p.columns) && p.columns[i].onset == onset && p.columns[i].order == order {
		return p.columns[i]
	}
	c := &column{onset: onset, order: order, cells: make([]cell, staves)}
	p.columns = append(p.columns, nil)
	copy(p.columns[i+1:], p.columns[i:])
	p.columns[i] = c
	return c
}

// planBar builds the columns of a bar. first says that it begins a line: then the
// signs at its start are drawn with the line's own.
func (l *Layout) planBar(bar int, first bool) *barPlan {
	p := &barPlan{index: bar, length: l.barLength(bar)}
	staves := len(l.music.Staves)
	var voices []voiceFigures
	for s := range l.music.Staves {
		if l.music.Bars[bar].RestBars == 0 {
			voices = append(voices, l.planStaff(p, s)...)
		}
	}
	p.findGroups(voices)
	for _, v := range voices {
		for i, f := range v.figures {
			l.addFigure(p, v.staff, f, graceOrder(v.figures, i))
		}
	}
	for s := range l.music.Staves {
		l.planMarks(p, s)
	}
	for s := range l.music.Staves {
		l.planChanges(p, s, first)
	}
	p.closing = make([]cell, staves)
	if bar+1 < len(l.music.Bars) {
		for s := range l.music.Staves {
			p.closing[s] = l.nextClef(bar+1, s)
		}
	}
	for _, c := range p.columns {
		for s := range c.cells {
			c.cells[s].finish()
		}
	}
	p.findArpeggios()
	p.setIdeals()
	return p
}

func (l *Layout) barLength(bar int) musicxml.Fraction {
	length := l.music.Bars[bar].Length
	if length.Sign() > 0 {
		return length
	}
	for s := range l.music.Staves {
		for _, v := range l.music.Staves[s].Measures[bar].Voices {
			for _, e := range v.Events {
				if end := e.Onset.Add(e.Duration); length.Less(end) {
					length = end
				}
			}
		}
	}
	return length
}

// voiceFigures are the figures of a voice on one staff; id is that of a voice that
// crosses to other staves.
type voiceFigures struct {
	staff   int
	id      string
	figures []*figure
}

// planStaff makes the figures of the notes and rests of one staff, voice by voice.
func (l *Layout) planStaff(p *barPlan, s int) (voices []voiceFigures) {
	measure := &l.music.Staves[s].Measures[p.index]
	seen, places := seenVoices(measure), seenPlaces(measure)
	now := l.states[s][p.index].opened(measure)
	uppers, agreed := upperVoices(seen)
	for number, v := range seen {
		var figures []*figure
		for i := range v.Events {
			e := &v.Events[i]
			view := l.viewAt(measure, now, s, e)
			f := newFigure(e, view, number, uppers[number], len(seen) > 1)
			f.owner = display.Owner{Staff: int32(s + 1), Bar: int32(p.index + 1), Voice: int32(places[number] + 1), Event: int32(i + 1)}
			f.byVoice = f.shared && !agreed
			f.id = v.ID
			figures = append(figures, f)
		}
		voices = append(voices, voiceFigures{s, v.ID, figures})
	}
	for i := range measure.Voices {
		for k := range measure.Voices[i].Events {
			if e := &measure.Voices[i].Events[k]; e.Hidden && !e.Grace {
				c := p.columnAt(e.Onset, 0, len(l.music.Staves))
				c.silent = append(c.silent, e)
			}
		}
	}
	return voices
}

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
		if sp := &l.music.Staves[s].Spanners[i]; sp.From.Bar == p.index {
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
		if side == SideAuto {
			side = Above
		}
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

// viewAt is the clef and lines in force at an event.
func (l *Layout) viewAt(measure *Measure, now state, staff int, e *Event) *staffView {
	for _, c := range measure.Changes {
		if c.Onset.Sign() > 0 && c.Onset.Cmp(e.Onset) <= 0 {
			now = now.with(c)
		}
	}
	return &staffView{now.clef, now.lines, staff}
}

// graceOrder is 0 for a note and −n … −1 for the grace notes before it.
func graceOrder(figures []*figure, i int) int {
	if !figures[i].event.Grace {
		return 0
	}
	n := 0
	for j := i; j < len(figures) && figures[j].event.Grace && figures[j].event.Onset == figures[i].event.Onset; j++ {
		n++
	}
	return -n
}

// addFigure puts a figure into its column, or among the centred rests.
func (l *Layout) addFigure(p *barPlan, s int, f *figure, order int) {
	if !f.isRest() {
		if f.group == nil {
			f.chooseStem()
		}
		f.arrangeHeads()
	}
	if f.isRest() && f.event.FullBar {
		if !f.event.Hidden {
			p.centered = append(p.centered, f)
		}
		return
	}
	if f.event.Hidden {
		return
	}
	c := p.columnAt(f.event.Onset, order, len(l.music.Staves))
	f.column = c
	c.cells[s].figures = append(c.cells[s].figures, f)
	for i := range f.event.Lyrics {
		lyric := &f.event.Lyrics[i]
		left, right := f.lyricExtent(lyric)
		if lyric.Hyphen {
			right += 0.5
		}
		c.cells[s].rows = append(c.cells[s].rows, textRow{key: "verse " + strconv.Itoa(lyric.Verse), left: left, right: right + 0.25})
	}
}

// addMarkRow reserves room for a mark among those of its row: they may not meet.
func (l *Layout) addMarkRow(p *barPlan, s int, m *Mark) {
	if signOfMark[m.Kind] != "" {
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
	case MarkWords:
		row.give = min(4, letters.width()/3)
		c.cells[s].follow(&row)
	}
	c.cells[s].rows = append(c.cells[s].rows, row)
}

// addDiagramRow reserves the room of a diagram, which stands over its note.
func (l *Layout) addDiagramRow(p *barPlan, s int, m *Mark) {
	width, _, _ := m.Diagram.extent()
	c := p.columnAt(m.Onset, 0, len(l.music.Staves))
	c.cells[s].rows = append(c.cells[s].rows, textRow{key: rowKey(m), left: 0.6 - width/2, right: 0.6 + width/2 + 0.6})
}

// rowKey names the row of a mark: those that share a height.
func rowKey(m *Mark) string {
	if m.Kind == MarkDynamic || m.onLevel() {
		if m.above() {
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

// planChanges adds the signs that change within a bar and, unless the bar begins
// a line, those at its start.
func (l *Layout) planChanges(p *barPlan, s int, first bool) {
	measure := &l.music.Staves[s].Measures[p.index]
	now := l.states[s][p.index]
	for _, c := range measure.Changes {
		before := now
		now = now.with(c)
		start := c.Onset.Sign() <= 0
		if c.Hidden || start && first {
			continue
		}
		if c.Clef != nil && !(start && l.clefBeforeBarline(p.index, c)) {
			p.putSigns(c.Onset, orderClef, s, len(l.music.Staves), clefSigns(*c.Clef, now.lines, p.index > 0 || !start))
		}
		if c.Key != nil {
			p.putSigns(c.Onset, orderKey, s, len(l.music.Staves), keyGroup(l.states[s][p.index].clefAt(measure, c.Onset), *c.Key, &before.key))
		}
		if line := boundary(Barline{Style: c.Barline}, Barline{}); c.Barline != BarDefault {
			p.putSigns(c.Onset, orderBarline, s, len(l.music.Staves), signGroup{role: display.RoleBarline, barline: &line, width: line.width})
		}
		if c.Time != nil {
			p.putSigns(c.Onset, orderTime, s, len(l.music.Staves), timeGroup(*c.Time, now.lines))
		}
	}
}

// clefBeforeBarline reports whether a change of clef at the start of a bar is
// drawn before its barline.
func (l *Layout) clefBeforeBarline(bar int, c Change) bool {
	return bar > 0 && !c.Clef.AfterBarline
}

func (p *barPlan) putSigns(onset musicxml.Fraction, order, s, staves int, g signGroup) {
	if g.empty() {
		return
	}
	p.columnAt(onset, order, staves).cells[s].group = g
}

// nextClef is the clef that the next bar begins with, as a cell before the
// barline; empty where the clef stays.
func (l *Layout) nextClef(bar, s int) cell {
	for _, c := range l.music.Staves[s].Measures[bar].Changes {
		if c.Clef != nil && c.Onset.Sign() <= 0 && !c.Hidden && l.clefBeforeBarline(bar, c) {
			made := cell{group: clefSigns(*c.Clef, l.states[s][bar].lines, true)}
			made.finish()
			return made
		}
	}
	return cell{}
}

// finish arranges a cell and measures it.
func (c *cell) finish() {
	shiftVoices(c.figures)
	clearRests(c.figures)
	c.accidentals = arrangeAccidentals(c.figures)
	grow := func(left, right float64) {
		if !c.filled {
			c.left, c.right, c.filled = left, right, true
			return
		}
		c.left, c.right = min(c.left, left), max(c.right, right)
	}
	for _, f := range c.figures {
		f.arrangeDots()
		grow(f.extent())
	}
	for _, a := range c.accidentals {
		grow(a.dx, a.dx+a.width())
	}
	for _, f := range c.figures {
		if f.event.Arpeggio != NoArpeggio {
			grow(c.left-0.9, c.right)
		}
	}
	if !c.group.empty() {
		grow(0, c.group.width)
	}
	for _, f := range c.figures {
		f.inkLeft = min(0, c.left)
	}
}

// extent bounds heads, stem, flag and dots around the column's x.
func (f *figure) extent() (left, right float64) {
	if f.isRest() {
		left, right = f.dx+f.rest.dx, f.dx+f.rest.dx+f.rest.shape.width()
	}
	for _, h := range f.heads {
		air := 0.0
		if h.note.Parentheses {
			air = fence
		}
		left, right = min(left, f.dx+h.dx-air), max(right, f.dx+h.dx+h.width()+air)
	}
	if s, ok := f.flag(); ok {
		right = max(right, f.stemDX()+s.box().right)
	}
	left, right = f.fallExtent(left, right)
	if f.event.Tremolo > 0 && f.stem {
		left, right = min(left, f.stemDX()-tremoloHalf), max(right, f.stemDX()+tremoloHalf)
	}
	for _, d := range f.dots {
		right = max(right, d.dx+d.shape.width())
	}
	for _, a := range f.event.Articulations {
		if isBreath(a.Sign) {
			right = max(right, f.breathDX()+shape{name: a.Sign}.width())
		}
	}
	return left, right
}

// flag is the figure's flag, if it has one.
func (f *figure) flag() (shape, bool) {
	v := f.event.Value
	if f.group != nil || !f.stem || v < Eighth || f.isRest() {
		return shape{}, false
	}
	direction := "-down"
	if f.up {
		direction = "-up"
	}
	return shape{"flag-" + min(v, Value128).String() + direction, f.small()}, true
}
