package engraving

import (
	"slices"
	"strconv"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving/display"
)

// planBar builds the columns of a bar. first says that it begins a line: then the
// signs at its start are drawn with the line's own.
func (l *Layout) planBar(bar int, first bool) *barPlan {
	p := &barPlan{index: bar, length: l.music.BarLength(bar)}
	staves := len(l.music.Staves)
	var voices []voiceFigures
	for s := range l.music.Staves {
		if l.music.Bars[bar].RestBars == 0 {
			voices = append(voices, l.planStaff(p, s)...)
		}
	}
	if first {
		l.restate(bar, voices)
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
			if first && c.order == 0 && c.onset.Sign() == 0 {
				c.cells[s].letTiesIn()
			}
		}
	}
	p.findArpeggios()
	p.setIdeals()
	return p
}

// BarLength is the time of one bar in quarter notes.
func (m *Music) BarLength(bar int) musicxml.Fraction {
	length := m.Bars[bar].Length
	if length.Sign() > 0 {
		return length
	}
	for s := range m.Staves {
		for e := range m.Staves[s].Measures[bar].Events() {
			length = length.Max(e.Onset.Add(e.Duration))
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
				if !slices.Contains(places, i) && e.hasMarks() {
					f := newFigure(e, l.viewAt(measure, now, s, e), 0, true, false)
					f.column = c
					f.arrangeHeads()
					c.cells[s].hidden = append(c.cells[s].hidden, f)
					c.cells[s].addLyrics(f)
				}
			}
		}
	}
	return voices
}

// restate gives the heads of a line's first bar the accidentals from before the line.
func (l *Layout) restate(bar int, voices []voiceFigures) {
	for _, v := range voices {
		restated := l.restated(v.staff, bar)
		for _, f := range v.figures {
			for i := range f.heads {
				if h := &f.heads[i]; slices.Contains(restated, h.note) {
					h.restated = &Accidental{Sign: UsualAccidental(h.note.Alter), Parentheses: true}
				}
			}
		}
	}
}

// hasMarks reports whether something stands at the event.
func (e *Event) hasMarks() bool {
	return len(e.Articulations)+len(e.Slurs)+len(e.Slides)+len(e.Lyrics) > 0
}

// viewAt is the clef and lines in force at an event.
func (l *Layout) viewAt(measure *Measure, now state, staff int, e *Event) *staffView {
	for _, c := range measure.Changes {
		if c.Onset.Sign() > 0 && c.Onset.Cmp(e.Onset) <= 0 {
			now = now.with(c)
		}
	}
	return &staffView{now.clef, now.lines, staff, measure.FretsOnly}
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
		if f.group == nil && f.cross == nil {
			f.chooseStem()
		}
		f.arrangeHeads()
	}
	if f.isRest() && f.event.FullBar {
		if !f.event.Hidden && !f.staff.fretsOnly {
			p.centered = append(p.centered, f)
		}
		return
	}
	c := p.columnAt(f.event.Onset, order, len(l.music.Staves))
	f.column = c
	if f.event.Hidden || f.isRest() && f.staff.fretsOnly {
		c.cells[s].hidden = append(c.cells[s].hidden, f)
	} else {
		c.cells[s].figures = append(c.cells[s].figures, f)
	}
	c.cells[s].addLyrics(f)
}

// addLyrics keeps room for the syllables at a figure.
func (c *cell) addLyrics(f *figure) {
	for i := range f.event.Lyrics {
		lyric := &f.event.Lyrics[i]
		left, right := f.lyricExtent(lyric)
		if lyric.Hyphen {
			right += hyphenRoom - wordSpace
		}
		c.rows = append(c.rows, textRow{key: "verse " + strconv.Itoa(lyric.Verse), left: left, right: right + wordSpace})
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
