package music

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// Mark is one thing that is printed at a note or beside the notes. Its element's
// name says what it is: <words>, <dynamics>, <staccato>, <slur>, <lyric>, <harmony>,
// <repeat>.
type Mark struct {
	Element *etree.Element
	// Event is the <note>, <direction>, <harmony>, <figured-bass>, <barline> or
	// <sound> that it stands in, or is.
	Event *musicxml.Event
	// Note is the note that it stands at; nil for what stands beside the notes.
	Note    *Note
	Measure int // index, from 0
	// Onset is where it is seen, in quarter notes from the start of the measure: for
	// a direction by its offset, for a barline by its location. Stands is where the
	// music has come to, without the offset, which moves what is seen alone
	// (MusicXML 4.0, offset).
	Onset, Stands musicxml.Fraction
	// Hidden: it, or what it stands in, is not printed.
	Hidden bool
	// Role is what it does for its Span, which is nil for what reaches nowhere.
	Role Role
	Span *Span

	note int // index of Note, -1 for none
}

// Group is the name of the element that holds the mark: "articulations", "technical",
// "notations", "direction-type", "barline".
func (m *Mark) Group() string {
	if holder := m.Element.Parent(); holder != nil {
		return holder.Tag
	}
	return ""
}

// At is where the mark stands, from the start of the piece; p is its part.
func (m *Mark) At(p *Part) musicxml.Fraction { return p.Measures[m.Measure].Start.Add(m.Stands) }

// marksAt notes what stands at a note: the children of its <notations>, one by one
// where they are grouped, and its syllables.
func (r *reader) marksAt(n *Note, index int) {
	m := Mark{Event: n.Event, Measure: n.Measure, Onset: n.Onset, Stands: n.Onset, note: index}
	for _, token := range n.Element.Child {
		e, ok := token.(*etree.Element)
		switch {
		case !ok || e.Space != "":
		case e.Tag == "notations":
			r.group(m, e)
		case e.Tag == "lyric":
			r.mark(m, e)
		}
	}
}

// group notes the children of an element that only holds others together.
func (r *reader) group(m Mark, group *etree.Element) {
	m.Hidden = m.Hidden || hidden(group)
	for _, token := range group.Child {
		e, ok := token.(*etree.Element)
		if !ok || e.Space != "" {
			continue
		}
		switch e.Tag {
		case "articulations", "ornaments", "technical":
			r.group(m, e)
		case "footnote", "level": // of an editor, about the others
		default:
			r.mark(m, e)
		}
	}
}

func (r *reader) mark(m Mark, e *etree.Element) {
	m.Element, m.Role = e, roleOf(e)
	m.Hidden = m.Hidden || hidden(e)
	r.Marks = append(r.Marks, m)
}

func hidden(e *etree.Element) bool { return musicxml.Attr(e, "print-object") == "no" }

// marksBeside notes what a <direction>, <harmony>, <figured-bass>, <barline> or
// <sound> shows or says.
func (r *reader) marksBeside(measure *musicxml.Measure, ev *musicxml.Event) {
	m := Mark{Event: ev, Measure: measure.Index, Onset: ev.Onset, Stands: r.now, note: -1}
	switch ev.Kind {
	case musicxml.Direction:
		for _, token := range ev.Element.Child {
			if e, ok := token.(*etree.Element); ok && (e.Tag == "direction-type" || e.Tag == "sound") {
				r.direction(m, e)
			}
		}
	case musicxml.Barline:
		m.Onset = edge(measure, ev)
		m.Stands = m.Onset
		r.group(m, ev.Element)
	case musicxml.Harmony, musicxml.FiguredBass, musicxml.Sound:
		r.mark(m, ev.Element)
	}
}

// direction notes the children of a <direction-type>, and a <sound> as it is.
func (r *reader) direction(m Mark, e *etree.Element) {
	if e.Tag == "sound" {
		r.mark(m, e)
		return
	}
	r.group(m, e)
}

// edge is where a barline stands: at the end by default (MusicXML 4.0, barline,
// location).
func edge(measure *musicxml.Measure, ev *musicxml.Event) musicxml.Fraction {
	switch musicxml.Attr(ev.Element, "location") {
	case "left":
		return musicxml.Fraction{}
	case "middle":
		return ev.Onset
	}
	return measure.Length
}
