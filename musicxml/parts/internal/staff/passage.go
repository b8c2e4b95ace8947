package staff

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// Passage is a run of notes on one staff within which no clef may change: notes
// that are tied, slurred or beamed together, or of which one voice holds a note
// while another moves.
type Passage struct {
	First, Last int               // of the notes in time, last excluded
	At          musicxml.Position // of the first note
	Start       changeRoom
}

// changeRoom says how well a clef change stands before a passage.
type changeRoom uint8

const (
	inBar        changeRoom = iota // in mid-bar, straight from note to note
	AfterRest                      // in mid-bar, after a rest
	atBar                          // at a barline
	AfterRestBar                   // at a barline, or in the first music after it, with a rest before
)

// Passages cuts one staff's notes into passages. inTime are the indices of its
// notes in the order of time, rests left out.
func (p *Page) Passages(inTime []int, measures []musicxml.Measure) []Passage {
	moments := p.moments(inTime)
	p.bind(inTime, moments)
	var all []Passage
	var reach, tieReach musicxml.Fraction
	bound, bar := -1, -1
	for k := range moments {
		m := &moments[k]
		n := &p.Notes[inTime[m.first]]
		now := measures[n.measure].Start.Add(n.Event.Onset)
		free := !now.Less(reach) && tieReach.Less(now) && bound < k
		if k == 0 || free && !m.after {
			all = append(all, Passage{First: m.first, At: n.At(), Start: roomBefore(n, bar, now, reach)})
		}
		for i := m.first; i < m.last; i++ {
			n := &p.Notes[inTime[i]]
			end := now.Add(n.Event.Duration)
			reach = reach.Max(end)
			if n.tied && tieReach.Less(end) {
				tieReach = end
			}
		}
		bound, bar = max(bound, m.until), n.measure
		all[len(all)-1].Last = m.last
	}
	return all
}

// roomBefore judges the place before a note. bar is that of the note before it,
// reach where the music before it ends.
func roomBefore(n *Note, bar int, now, reach musicxml.Fraction) changeRoom {
	rest := reach.Less(now)
	switch {
	case n.measure != bar && rest:
		return AfterRestBar
	case n.measure != bar:
		return atBar
	case rest:
		return AfterRest
	}
	return inBar
}

// moment is the notes of a staff that start together, grace notes with the note
// that they lead to.
type moment struct {
	first, last int // of the notes in time, last excluded
	until       int // the last moment that belongs with this one
	after       bool
}

// moments gathers the notes that start together. Grace notes at the end of a bar
// belong to the note before them.
func (p *Page) moments(inTime []int) []moment {
	var all []moment
	for i, k := range inTime {
		n := &p.Notes[k]
		last := len(all) - 1
		if last >= 0 && p.Notes[inTime[all[last].first]].At() == n.At() {
			all[last].last = i + 1
			all[last].after = all[last].after && n.Event.Grace
			continue
		}
		all = append(all, moment{first: i, last: i + 1, until: len(all), after: n.Event.Grace})
	}
	return all
}

// span is something that has begun and holds notes together until it ends.
type span struct {
	mark, number, voice string
	moment              int
}

// bind finds what holds moments together: beams, and slurs and other marks from
// note to note.
func (p *Page) bind(inTime []int, moments []moment) {
	var open []span
	for k := range moments {
		for i := moments[k].first; i < moments[k].last; i++ {
			n := &p.Notes[inTime[i]]
			switch n.beam {
			case beamBegins:
				open = append(open, span{"beam", "", n.Event.Voice, k})
			case beamEnds:
				open = closeSpan(open, moments, span{"beam", "", n.Event.Voice, k})
			}
			if n.Event.Marked {
				open = bindMarks(n, open, moments, k)
			}
		}
	}
}

// bindMarks opens and closes what a note's <notations> begin and end.
func bindMarks(n *Note, open []span, moments []moment, k int) []span {
	for notations := range n.Event.Element.ChildElementsSeq() {
		if notations.Tag != "notations" {
			continue
		}
		for e := range notations.ChildElementsSeq() {
			switch e.Tag {
			case "slur", "tuplet", "glissando", "slide":
				open = bindMark(e, n, open, moments, k)
			case "ornaments":
				if tremolo := musicxml.Child(e, "tremolo"); tremolo != nil {
					open = bindMark(tremolo, n, open, moments, k)
				}
			}
		}
	}
	return open
}

func bindMark(e *etree.Element, n *Note, open []span, moments []moment, k int) []span {
	s := span{e.Tag, musicxml.Attr(e, "number"), n.Event.Voice, k}
	switch musicxml.Attr(e, "type") {
	case "start":
		return append(open, s)
	case "stop":
		return closeSpan(open, moments, s)
	}
	return open
}

// mostOpen bounds how far back the beginning of a mark is looked for.
const mostOpen = 64

// closeSpan finds where the mark that ends here began, and binds the moments
// between. One that never ends binds nothing.
func closeSpan(open []span, moments []moment, s span) []span {
	for i := len(open) - 1; i >= max(0, len(open)-mostOpen); i-- {
		if o := &open[i]; o.mark == s.mark && o.number == s.number && o.voice == s.voice {
			moments[o.moment].until = max(moments[o.moment].until, s.moment)
			return slices.Delete(open, i, i+1)
		}
	}
	return open
}

// InTime lists the notes of a staff in the order of time, rests left out.
func (p *Page) InTime(staff int) []int {
	var all []int
	from := 0
	sorted := true
	for i := range p.Notes {
		n := &p.Notes[i]
		if n.Pitch == nil || n.Event.Rest || min(n.Event.Staff, maxStaves) != staff {
			continue
		}
		if len(all) > from && p.Notes[all[len(all)-1]].measure != n.measure {
			p.sortInTime(all[from:], sorted)
			from, sorted = len(all), true
		}
		if len(all) > from && n.Event.Onset.Less(p.Notes[all[len(all)-1]].Event.Onset) {
			sorted = false
		}
		all = append(all, i)
	}
	p.sortInTime(all[from:], sorted)
	return all
}

func (p *Page) sortInTime(bar []int, sorted bool) {
	if !sorted {
		slices.SortStableFunc(bar, func(a, b int) int { return p.Notes[a].Event.Onset.Cmp(p.Notes[b].Event.Onset) })
	}
}
