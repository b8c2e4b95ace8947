package engraving

import (
	"slices"

	"deskpart/musicxml"
)

// tightest is the stretch of the ideal distances below which a bar does not stand on one
// line: it would run over the edge, or nearly.
const tightest = 0.2

// Split divides the bars that are wider than a line, such as cadenzas, where nothing sounds
// on and no beam or tuplet goes on: the pieces follow each other without a barline, so that
// a line may end there (common practice, no source). Music whose bars all fit is returned
// as it is; it is never changed.
func (l *Layout) Split() *Music {
	l.measure()
	whole := l.music
	var m *Music
	for bar := l.to - 1; bar >= l.from; bar-- { // from the end, so that places stay
		at := bar - l.from
		room := l.width - l.heads[at] - l.tails[at]
		if l.widths[at].least <= room || whole.Bars[bar].RestBars > 0 {
			continue
		}
		if cuts := l.cuts(bar, room); len(cuts) > 0 {
			if m == nil {
				m = whole.copied()
			}
			m.splitBar(bar, append(cuts, l.music.BarLength(bar)))
		}
	}
	if m == nil {
		return whole
	}
	return m
}

// cuts are where a bar that is wider than the room is divided: as late as a piece allows.
func (l *Layout) cuts(bar int, room float64) []musicxml.Fraction {
	plan := l.planBar(bar, false)
	const begin = 1000.0 // texts may begin left of the first note
	if l.spaceBar(plan, begin, tightest, &edges{})-begin <= room {
		return nil
	}
	end := l.spaceBar(plan, begin, squeeze, &edges{})
	var cuts []musicxml.Fraction
	var last *column
	x := begin
	cut := func(to float64) {
		if to-x > room && last != nil {
			cuts, x, last = append(cuts, last.onset), last.x, nil
		}
	}
	for _, c := range plan.columns {
		if c.order == 0 && c.onset.Sign() > 0 && c.onset.Less(l.music.BarLength(bar)) && l.music.mayPart(bar, c.onset) {
			cut(c.x)
			last = c
		}
	}
	cut(end)
	return cuts
}

// mayPart reports whether a bar can be divided at a moment: no note, beam, tuplet or
// tremolo of any voice goes on there.
func (m *Music) mayPart(bar int, at musicxml.Fraction) bool {
	open := 0
	for s := range m.Staves {
		for e := range m.Staves[s].Measures[bar].Events() {
			if !e.Onset.Less(at) {
				continue
			}
			end := e.Onset.Add(e.Duration)
			if at.Less(end) && !e.FullBar && !e.Hidden || e.TremoloTo > 0 && end == at {
				return false
			}
			open += e.opens()
		}
	}
	return open == 0
}

// opens counts the beams and tuplets that begin at an event, less those that end.
func (e *Event) opens() (n int) {
	if len(e.Beams) > 0 && !e.Grace {
		switch e.Beams[0] {
		case BeamBegin:
			n++
		case BeamEnd:
			n--
		}
	}
	for _, t := range e.Tuplets {
		if t.Start {
			n++
		} else {
			n--
		}
	}
	return n
}

// copied is the music with lists of its own, which may be divided.
func (m *Music) copied() *Music {
	c := *m
	c.Bars = slices.Clone(m.Bars)
	for i := range c.Bars {
		c.Bars[i].Source = m.sourceOf(i)
	}
	c.Staves = slices.Clone(m.Staves)
	for s := range c.Staves {
		c.Staves[s].Measures = slices.Clone(c.Staves[s].Measures)
		c.Staves[s].Spanners = slices.Clone(c.Staves[s].Spanners)
	}
	return &c
}

// splitBar puts pieces in the place of a bar. Each ends at one of the moments.
func (m *Music) splitBar(bar int, ends []musicxml.Fraction) {
	whole := m.Bars[bar]
	pieces := make([]Bar, len(ends))
	var from musicxml.Fraction
	for i, end := range ends {
		pieces[i] = Bar{Source: whole.Source, Length: end.Sub(from), Right: Barline{Style: BarNone}, Ending: Ending{Over: whole.Ending.Over}}
		from = end
	}
	first, last := &pieces[0], &pieces[len(pieces)-1]
	first.Number, first.Left, first.NewLine = whole.Number, whole.Left, whole.NewLine
	first.Ending.Text, first.Ending.Start = whole.Ending.Text, whole.Ending.Start
	last.Right, last.Ending.Stop, last.Ending.Leaves = whole.Right, whole.Ending.Stop, whole.Ending.Leaves
	for s := range m.Staves {
		st := &m.Staves[s]
		measures := st.Measures[bar].pieces(ends)
		for i := 1; i < len(pieces); i++ {
			for k := range measures[i].Changes {
				if c := &measures[i].Changes[k]; c.Onset.Sign() == 0 && c.Barline != BarDefault {
					pieces[i-1].Right.Style, c.Barline = c.Barline, BarDefault
				}
			}
		}
		st.Measures = slices.Replace(st.Measures, bar, bar+1, measures...)
		for i := range st.Spanners {
			st.Spanners[i].split(bar, ends)
		}
	}
	m.Bars = slices.Replace(m.Bars, bar, bar+1, pieces...)
}

// pieceAt is the piece in which a moment lies, and the time into it. What ends there is
// still in the piece before.
func pieceAt(onset musicxml.Fraction, ends []musicxml.Fraction, closing bool) (int, musicxml.Fraction) {
	var from musicxml.Fraction
	for i, end := range ends {
		if i == len(ends)-1 || onset.Less(end) || closing && onset == end {
			return i, onset.Sub(from)
		}
		from = end
	}
	return 0, onset
}

// pieces divides what a staff has in a bar.
func (measure Measure) pieces(ends []musicxml.Fraction) []Measure {
	pieces := make([]Measure, len(ends))
	for i := range pieces {
		pieces[i] = Measure{FretsOnly: measure.FretsOnly, Hidden: measure.Hidden}
	}
	pieces[0].Repeat = measure.Repeat
	for _, c := range measure.Changes {
		i, onset := pieceAt(c.Onset, ends, false)
		c.Onset = onset
		pieces[i].Changes = append(pieces[i].Changes, c)
	}
	for _, k := range measure.Marks {
		i, onset := pieceAt(k.Onset, ends, false)
		k.Onset = onset
		pieces[i].Marks = append(pieces[i].Marks, k)
	}
	for n, v := range measure.Voices {
		for i := range pieces {
			pieces[i].Voices = append(pieces[i].Voices, Voice{ID: v.ID})
		}
		for _, e := range v.Events {
			if e.FullBar {
				for i, end := range ends {
					e.Duration = end
					if i > 0 {
						e.Duration = end.Sub(ends[i-1])
					}
					pieces[i].Voices[n].Events = append(pieces[i].Voices[n].Events, e)
				}
				continue
			}
			i, onset := pieceAt(e.Onset, ends, false)
			e.Onset = onset
			pieces[i].Voices[n].Events = append(pieces[i].Voices[n].Events, e)
		}
	}
	return pieces
}

// split moves the moments of a spanner to where they are once a bar is divided.
func (sp *Spanner) split(bar int, ends []musicxml.Fraction) {
	move := func(at Moment, closing bool) Moment {
		switch {
		case at.Bar > bar:
			at.Bar += len(ends) - 1
		case at.Bar == bar:
			i, onset := pieceAt(at.Onset, ends, closing)
			at = Moment{Bar: bar + i, Onset: onset}
		}
		return at
	}
	sp.From, sp.To = move(sp.From, false), move(sp.To, true)
	sp.Changes = slices.Clone(sp.Changes)
	for i := range sp.Changes {
		sp.Changes[i] = move(sp.Changes[i], false)
	}
}
