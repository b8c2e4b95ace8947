package engraving

import (
	"cmp"
	"slices"
)

// slur is a slur or another line from one event to another, on whatever staves.
type slur struct {
	from, to           *Event
	fromBar, toBar     int
	fromStaff, toStaff int
	side               Side
	line               LineType
	text               string
}

// crosses reports whether the slur leads from one staff to another.
func (s *slur) crosses() bool { return s.fromStaff != s.toStaff }

// slurKey is what the ends of a slur have in common: pieces that were stacked number
// their slurs apart.
type slurKey struct{ piece, id int }

// slurPairs pairs the ends of slurs in order of time.
type slurPairs struct {
	list  []slur
	open  map[slurKey][]slur
	early []earlyEnd
}

// earlyEnd is an end whose beginning was not seen yet: at one moment the order of
// voices says nothing.
type earlyEnd struct {
	end        SlurEnd
	event      *Event
	bar, staff int
	piece      int
}

// pairSlurs finds the two ends of each slur, or other line that ends names, of the
// music. An end without its other end is left out.
func pairSlurs(m *Music, ends func(*Event) []SlurEnd) []slur {
	p := slurPairs{open: map[slurKey][]slur{}}
	for bar := range m.Bars {
		for _, at := range m.inTime(bar) {
			p.event(at, bar, m.Staves[at.staff].piece, ends(at.event))
		}
		for _, e := range p.early {
			p.close(e)
		}
		p.early = p.early[:0]
	}
	return p.list
}

// eventAt is an event and the index of its staff.
type eventAt struct {
	event *Event
	staff int
}

// inTime lists the events of a bar on all staves in order of time.
func (m *Music) inTime(bar int) []eventAt {
	var all []eventAt
	for s := range m.Staves {
		for _, e := range inTime(&m.Staves[s].Measures[bar]) {
			all = append(all, eventAt{e, s})
		}
	}
	slices.SortStableFunc(all, func(a, b eventAt) int { return a.event.Onset.Cmp(b.event.Onset) })
	return all
}

func (p *slurPairs) event(at eventAt, bar, piece int, ends []SlurEnd) {
	for _, end := range ends {
		if e := (earlyEnd{end, at.event, bar, at.staff, piece}); !end.Start && !p.close(e) {
			p.early = append(p.early, e)
		}
	}
	for _, end := range ends {
		if end.Start {
			key := slurKey{piece, end.ID}
			p.open[key] = append(p.open[key], slur{from: at.event, fromBar: bar, fromStaff: at.staff, side: end.Side, line: end.Line, text: end.Text})
		}
	}
}

// close ends the slur that was opened last with the same number.
func (p *slurPairs) close(e earlyEnd) bool {
	key := slurKey{e.piece, e.end.ID}
	waiting := p.open[key]
	if len(waiting) == 0 {
		return false
	}
	s := waiting[len(waiting)-1]
	p.open[key] = waiting[:len(waiting)-1]
	s.to, s.toBar, s.toStaff = e.event, e.bar, e.staff
	s.side = cmp.Or(s.side, e.end.Side)
	if !p.hasAlready(&s) {
		p.list = append(p.list, s)
	}
	return true
}

// nearSlurs is how many of the slurs that ended last are looked through.
const nearSlurs = 16

// hasAlready reports whether a slur joins the same single notes: a part that was
// written for two players has one for each. Chords may have several.
func (p *slurPairs) hasAlready(s *slur) bool {
	return len(s.from.Notes) == 1 && len(s.to.Notes) == 1 && slices.ContainsFunc(p.list[max(0, len(p.list)-nearSlurs):], func(o slur) bool {
		return o.from == s.from && o.to == s.to && o.line == s.line && o.text == s.text
	})
}
