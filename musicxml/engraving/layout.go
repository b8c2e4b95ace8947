package engraving

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving/display"
	"deskpart/transpose/pitch"
	"deskpart/transpose/words"
)

// Layout is music ready to be broken into lines: what each bar needs is known, and
// any run of bars can be weighed and drawn as a line. [Draw] breaks it by the
// lines' own cost; whoever builds pages weighs lines together with what else
// matters there. It is used by one goroutine at a time.
type Layout struct {
	music *Music
	o     Options
	tell  teller
	width float64 // of a line
	// states has, for each staff, what is in force at the start of each bar.
	states   [][]state
	from, to int // bars, from included, to excluded
	// starts has the time from the beginning of the music to each bar.
	starts []musicxml.Fraction
	// slurs and the like are paired over the whole range of bars and all staves.
	slurs, slides []slur
	// sizes are those of the staves against full size.
	sizes []float64
	// widths of bars, heads and tails of lines that begin or end with them, once
	// they are measured.
	widths       []barWidth
	heads, tails []float64
}

var errMeasures = errors.New("a staff has not as many measures as there are bars")

// NewLayout prepares music for breaking. It fails only where a staff has not as
// many measures as there are bars.
func NewLayout(m *Music, o Options) (*Layout, error) {
	if o.Width <= 0 {
		o.Width = 100
	}
	if o.Space <= 0 {
		o.Space = 1.75
	}
	names, err := words.In(cmp.Or(o.Language, pitch.English))
	if err != nil {
		return nil, err
	}
	l := &Layout{music: m, o: o, tell: teller{names}, width: float64(o.Width), from: max(0, o.From-1), to: len(m.Bars)}
	if o.To > 0 {
		l.to = min(l.to, o.To)
	}
	for s := range m.Staves {
		if len(m.Staves[s].Measures) != len(m.Bars) {
			return nil, fmt.Errorf("staff %d: %w: %d and %d", s+1, errMeasures, len(m.Staves[s].Measures), len(m.Bars))
		}
		l.states = append(l.states, states(&m.Staves[s]))
	}
	l.slurs = pairSlurs(m, func(e *Event) []SlurEnd { return e.Slurs })
	l.slides = pairSlurs(m, func(e *Event) []SlurEnd { return e.Slides })
	l.sizes = l.sizesOfStaves()
	var now musicxml.Fraction
	for bar := range m.Bars {
		l.starts = append(l.starts, now)
		now = now.Add(l.music.BarLength(bar))
	}
	return l, nil
}

// indentOf is the room left of the staves for names and braces, on a line that begins
// with a bar.
func (l *Layout) indentOf(bar int) float64 {
	name := func(s *Staff) string { return s.Short }
	if bar == l.from {
		name = func(s *Staff) string { return s.Name }
	}
	return l.nameWidth(name) + l.symbolWidth()
}

func (l *Layout) nameWidth(name func(*Staff) string) float64 {
	width := 0.0
	for s := range l.music.Staves {
		for _, line := range strings.Split(name(&l.music.Staves[s]), "\n") {
			width = max(width, textWidth(display.RoleStaffName, line)+1)
		}
	}
	return min(width, l.width/3)
}

func (l *Layout) symbolWidth() float64 {
	if slices.ContainsFunc(l.music.Groups, func(g Group) bool { return g.Symbol != NoSymbol }) {
		return 1.4
	}
	return 0
}

// prefix are the signs at the head of a line, column by column: clefs, keys,
// times.
func (l *Layout) prefix(bar int) (columns [][]signGroup) {
	columns = make([][]signGroup, 3)
	for s := range l.music.Staves {
		now := l.states[s][bar].opened(&l.music.Staves[s].Measures[bar])
		var clef, key, time signGroup
		if now.hasClef {
			clef = clefSigns(now.clef, now.lines, false)
		}
		if now.hasKey {
			key = keyGroup(now.clef, now.key, cancelAtStart(bar))
		}
		if now.hasTime && (bar == l.from || l.timeChanges(bar, s)) {
			time = timeGroup(now.time, now.lines)
		}
		columns[0], columns[1], columns[2] = append(columns[0], clef), append(columns[1], key), append(columns[2], time)
	}
	return columns
}

// cancelAtStart is the key to cancel at the very beginning of the music (where a
// file says so); lines that follow a change have had their naturals before.
func cancelAtStart(bar int) *Key {
	if bar == 0 {
		return &Key{}
	}
	return nil
}

func (l *Layout) timeChanges(bar, s int) bool {
	return slices.ContainsFunc(l.music.Staves[s].Measures[bar].Changes, func(c Change) bool { return c.Time != nil && c.Onset.Sign() <= 0 && !c.Hidden })
}

// prefixWidth is the room that the head of a line takes, from the staff's left end.
func prefixWidth(columns [][]signGroup) float64 {
	width := 0.0
	for _, c := range columns {
		if w := widest(c); w > 0 {
			width += signGap*0.75 + w
		}
	}
	return width
}

func widest(groups []signGroup) float64 {
	width := 0.0
	for _, g := range groups {
		width = max(width, g.width)
	}
	return width
}

// courtesy are the signs after the last barline of a line, when the next bar
// changes key or time.
func (l *Layout) courtesy(next int) [][]signGroup {
	columns := make([][]signGroup, 2)
	if next >= len(l.music.Bars) || l.music.Bars[next-1].RestBars > 0 && next >= l.to {
		return columns
	}
	for s := range l.music.Staves {
		now := l.states[s][next]
		var key, time signGroup
		for _, c := range l.music.Staves[s].Measures[next].Changes {
			before := now
			now = now.with(c)
			if c.Onset.Sign() > 0 || c.Hidden {
				continue
			}
			if c.Key != nil {
				key = keyGroup(l.states[s][next].clefAt(&l.music.Staves[s].Measures[next], c.Onset), *c.Key, &before.key)
			}
			if c.Time != nil {
				time = timeGroup(*c.Time, now.lines)
			}
		}
		columns[0], columns[1] = append(columns[0], key), append(columns[1], time)
	}
	return columns
}

// spaceBar spaces one bar from its left barline and returns where its right
// barline stands. Texts of the bars before reach as far as e says, which is
// brought up to date.
func (l *Layout) spaceBar(p *barPlan, x, stretch float64, e *edges) float64 {
	if l.music.Bars[p.index].RestBars > 0 {
		return p.spaceRest(x, stretch, e)
	}
	return p.space(x, stretch, e)
}
