package engraving

import (
	"deskpart/musicxml"
)

var barStyles = map[string]BarStyle{
	"regular": BarOrdinary, "light-light": BarDouble, "light-heavy": BarFinal, "heavy": BarHeavy,
	"heavy-light": BarHeavyThin, "heavy-heavy": BarHeavyHeavy, "dashed": BarDashed, "dotted": BarDotted,
	"tick": BarTick, "short": BarShort, "none": BarNone,
}

// barline reads the lines at the edges of the bar, repeats and endings.
func (m *measureReader) barline(e *musicxml.Event) {
	bar := &m.music.Bars[m.bar]
	line := Barline{Style: barStyles[musicxml.ChildText(e.Element, "bar-style")]}
	line.Repeat = musicxml.Child(e.Element, "repeat") != nil
	for _, sign := range []string{"fermata", "segno", "coda"} {
		if musicxml.Child(e.Element, sign) != nil {
			line.Sign = sign
		}
	}
	switch musicxml.Attr(e.Element, "location") {
	case "left":
		bar.Left = line
	case "middle":
		if line.Style != BarNone && e.Onset.Sign() > 0 {
			m.change(0, Change{Onset: e.Onset, Barline: max(line.Style, BarOrdinary)})
		}
		return
	default:
		bar.Right = line
	}
	ending := musicxml.Child(e.Element, "ending")
	if ending == nil {
		return
	}
	switch musicxml.Attr(ending, "type") {
	case "start":
		bar.Ending.Start, bar.Ending.Over = true, true
		bar.Ending.Text = musicxml.Text(ending)
		if bar.Ending.Text == "" {
			bar.Ending.Text = musicxml.Attr(ending, "number") + "."
		}
	case "stop":
		bar.Ending.Stop, bar.Ending.Over = true, true
	case "discontinue":
		bar.Ending.Over = true
	}
}

// spanEndings lets an open ending's bracket go on over the bars inside it.
func spanEndings(m *Music) {
	open := false
	for b := range m.Bars {
		e := &m.Bars[b].Ending
		closes := e.Stop || e.Over && !e.Start
		if e.Start {
			open = true
		}
		if open {
			e.Over = true
		}
		if closes {
			open = false
		}
	}
}

// gatherRests draws the multi-bar rests that the part announces, and every run of
// at least that many empty bars (0: none), as one bar.
func (r *partReader) gatherRests(least int) {
	m := r.music
	keep := make([]int, 0, len(m.Bars))
	moved := make([]int, len(m.Bars))
	for b := 0; b < len(m.Bars); {
		n := r.restRun(b, least)
		for i := b; i < b+n; i++ {
			moved[i] = len(keep)
		}
		if n > 1 {
			m.Bars[b].RestBars = n
			m.Bars[b].Right = m.Bars[b+n-1].Right
			m.Bars[b].Ending.Stop = m.Bars[b].Ending.Stop || m.Bars[b+n-1].Ending.Stop
		}
		keep = append(keep, b)
		b += n
	}
	if len(keep) < len(m.Bars) {
		m.keepBars(keep, moved)
	}
}

// restRun is the number of bars from b on that are drawn as one.
func (r *partReader) restRun(b, least int) int {
	m := r.music
	announced := r.rests[b]
	n := 0
	for b+n < len(m.Bars) && r.emptyBar(b+n) && (n == 0 || r.plainStart(b+n)) {
		n++
		if n == announced {
			return n
		}
		if m.Bars[b+n-1].Right != (Barline{}) {
			break
		}
	}
	if announced > 1 && n > 1 || least > 0 && n >= max(2, least) {
		return n
	}
	return 1
}

// emptyBar reports whether a bar has nothing but whole-bar rests on all staves.
func (r *partReader) emptyBar(bar int) bool {
	for s := range r.music.Staves {
		measure := &r.music.Staves[s].Measures[bar]
		for _, c := range measure.Changes {
			if c.Onset.Sign() > 0 {
				return false
			}
		}
		for _, mark := range measure.Marks {
			if mark.Onset.Sign() > 0 {
				return false
			}
		}
		for _, v := range measure.Voices {
			for i := range v.Events {
				if e := &v.Events[i]; !e.Hidden && (!e.FullBar || len(e.Articulations) > 0) {
					return false
				}
			}
		}
	}
	return true
}

// plainStart reports whether nothing begins or changes at a bar's start.
func (r *partReader) plainStart(bar int) bool {
	b := &r.music.Bars[bar]
	if b.Left != (Barline{}) || b.Ending.Start || b.NewLine || r.rests[bar] > 1 {
		return false
	}
	for s := range r.music.Staves {
		measure := &r.music.Staves[s].Measures[bar]
		if len(measure.Marks) > 0 {
			return false
		}
		for _, c := range measure.Changes {
			if !c.Hidden {
				return false
			}
		}
	}
	return true
}

// keepBars drops the bars that a rest stands for; moved gives every old bar its
// new index.
func (m *Music) keepBars(keep, moved []int) {
	bars := make([]Bar, 0, len(keep))
	for _, b := range keep {
		bars = append(bars, m.Bars[b])
	}
	m.Bars = bars
	for s := range m.Staves {
		staff := &m.Staves[s]
		measures := make([]Measure, 0, len(keep))
		for _, b := range keep {
			measures = append(measures, staff.Measures[b])
		}
		staff.Measures = measures
		for i := range staff.Spanners {
			sp := &staff.Spanners[i]
			sp.From.Bar, sp.To.Bar = moved[sp.From.Bar], moved[sp.To.Bar]
		}
	}
}

// BarOf returns the bar (counted from 1) that shows a measure of the document
// (counted from 1); 0 where none does.
func (m *Music) BarOf(measure int) int {
	for i := range m.Bars {
		source := m.Bars[i].Source
		if source == 0 {
			source = i + 1
		}
		if measure >= source && measure < source+max(1, m.Bars[i].RestBars) {
			return i + 1
		}
	}
	return 0
}
