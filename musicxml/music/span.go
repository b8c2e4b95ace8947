package music

import (
	"cmp"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// Span is something that begins in one place and ends in another.
type Span struct {
	// Kind is the name of its elements: "slur", "tuplet", "wedge", "octave-shift".
	Kind string
	// Start and Stop are its ends; nil for one that the part does not have.
	Start, Stop *Mark
	// Through are the marks in between that belong to it: "continue", and the change
	// of a pedal.
	Through []*Mark
}

// Role is what a mark does for a span.
type Role uint8

// The roles. A mark without one stands by itself.
const (
	Alone Role = iota
	Starts
	Continues
	Stops
)

// roleOf reads what an element does for a span, from its type.
func roleOf(e *etree.Element) Role {
	switch e.Tag {
	case "slur", "glissando", "slide", "tuplet", "wavy-line", "tremolo", "hammer-on", "pull-off", "other-notation",
		"dashes", "bracket", "wedge", "octave-shift", "pedal", "principal-voice", "ending":
	default:
		return Alone
	}
	switch musicxml.Attr(e, "type") {
	case "start", "crescendo", "diminuendo", "up", "down", "sostenuto", "resume":
		return Starts
	case "continue", "change":
		return Continues
	case "stop", "discontinue":
		return Stops
	}
	return Alone
}

// IsLine reports whether an element of a direction is an end of something long, or goes on
// with it: a hairpin, dashes, a bracket, an octave line, a pedal, the bracket of a voice.
func IsLine(e *etree.Element) bool {
	switch e.Tag {
	case "wedge", "dashes", "bracket", "octave-shift", "pedal", "principal-voice":
		return true
	}
	return false
}

// spanKey is what the ends of a span have in common.
type spanKey struct{ kind, number string }

// keyOf reads the number by which the ends of a span are told from others that are
// open with it, 1 where none is given (MusicXML 4.0, number-level). An ending's number
// is when it is played.
func keyOf(e *etree.Element) spanKey {
	number := musicxml.Attr(e, "number")
	if number == "" || e.Tag == "ending" {
		number = "1"
	}
	return spanKey{e.Tag, number}
}

// mostOpen bounds how many spans of one kind and number are open at a time: the
// standard has 16 numbers for what is, so that one alone should have one.
const mostOpen = 32

// spanReader pairs the ends of spans.
type spanReader struct {
	part  *Part
	open  map[spanKey][]*Span
	early []*Mark // ends of this measure whose beginning was not seen yet
}

// joinSpans pairs the ends of spans, in document order. Only within a measure can an
// end stand in the document before its beginning, for there the music turns back.
func (p *Part) joinSpans() {
	count := 0
	for i := range p.Marks {
		if role := p.Marks[i].Role; role == Starts || role == Stops {
			count++
		}
	}
	p.Spans = make([]Span, 0, count)
	r := spanReader{part: p, open: map[spanKey][]*Span{}}
	for i := range p.Measures {
		marks := p.Measures[i].Marks
		for k := range marks {
			r.mark(&marks[k])
		}
		for _, m := range r.early {
			if !r.stop(m) {
				r.begin(m).Stop = m
			}
		}
		r.early = r.early[:0]
	}
}

func (r *spanReader) mark(m *Mark) {
	switch m.Role {
	case Starts:
		s := r.begin(m)
		s.Start = m
		key := keyOf(m.Element)
		open := append(r.open[key], s)
		if len(open) > mostOpen {
			open = open[1:]
		}
		r.open[key] = open
	case Continues:
		if s, _ := r.find(m); s != nil {
			m.Span = s
			s.Through = append(s.Through, m)
		}
	case Stops:
		if !r.stop(m) {
			r.early = append(r.early, m)
		}
	}
}

// begin makes a span with one end.
func (r *spanReader) begin(m *Mark) *Span {
	r.part.Spans = append(r.part.Spans, Span{Kind: m.Element.Tag})
	s := &r.part.Spans[len(r.part.Spans)-1]
	m.Span = s
	return s
}

// stop ends the open span that an end fits best, and reports whether there is one.
func (r *spanReader) stop(m *Mark) bool {
	s, at := r.find(m)
	if s == nil {
		return false
	}
	s.Stop, m.Span = m, s
	key := keyOf(m.Element)
	r.open[key] = append(r.open[key][:at], r.open[key][at+1:]...)
	return true
}

// find returns the open span that a mark fits best: one that does not begin after it,
// and of several such, one that begins at another note; in the mark's voice and staff;
// the one opened last.
func (r *spanReader) find(m *Mark) (found *Span, at int) {
	best := -1
	for i, s := range r.open[keyOf(m.Element)] {
		if fits := fitness(s.Start, m); fits >= best && fits >= 0 {
			best, found, at = fits, s, i
		}
	}
	return found, at
}

// fitness says how well a beginning goes with an end, -1 for not at all.
func fitness(start, stop *Mark) int {
	if start.compare(stop) > 0 {
		return -1
	}
	fits := 0
	if start.Event != stop.Event {
		fits += 4
	}
	if start.Event.Staff == stop.Event.Staff {
		fits += 2
	}
	if start.Event.Voice == stop.Event.Voice {
		fits++
	}
	return fits
}

// compare orders marks in time; at one moment what stands at grace notes comes first.
func (m *Mark) compare(other *Mark) int {
	return cmp.Or(cmp.Compare(m.Measure, other.Measure), m.Stands.Cmp(other.Stands), cmp.Compare(m.graceOrder(), other.graceOrder()))
}

// graceOrder orders grace notes before what they lead to.
func (m *Mark) graceOrder() int {
	if m.Note == nil || m.Note.GraceOrder == 0 {
		return mostGraces
	}
	return min(m.Note.GraceOrder, mostGraces-1)
}

const mostGraces = 1 << 20
