package music

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// Part is a part as music.
type Part struct {
	Measures []Measure
	Notes    []Note   // all notes and rests, in document order
	Marks    []Mark   // all marks, in document order
	Changes  []Change // all changes of clef, key and the like, in document order
	Spans    []Span   // in the order in which they begin in the document
	Staves   int      // at least 1
}

// Measure is a bar with what is in it. The slices are pieces of the part's.
type Measure struct {
	*musicxml.Measure
	Notes   []Note
	Marks   []Mark
	Changes []Change
}

// ReadPart is Read of a <part> that nobody has laid out in time yet. The error is a
// *musicxml.Error with measure and beat, too.
func ReadPart(part *etree.Element) (*Part, error) {
	timeline, err := musicxml.NewTimeline(part)
	if err != nil {
		return nil, err
	}
	return Read(timeline)
}

// Read reads a part that is laid out in time. It keeps pointers to the timeline's
// measures and events and into the tree, and changes neither. The error is an
// *musicxml.Error with measure and beat.
func Read(t *musicxml.Timeline) (*Part, error) {
	notes := 0 // at most
	for i := range t.Measures {
		notes += len(t.Measures[i].Events)
	}
	p := &Part{Measures: make([]Measure, 0, len(t.Measures)), Notes: make([]Note, 0, notes), Staves: 1}
	r := reader{Part: p, graces: map[string]int{}}
	for i := range t.Measures {
		if err := r.measure(&t.Measures[i]); err != nil {
			return p, err
		}
	}
	r.share()
	if err := p.transpose(); err != nil {
		return p, err
	}
	p.joinTies()
	p.joinSpans()
	return p, nil
}

// mostStaves bounds the staves of one part that are believed in.
const mostStaves = 64

// reader goes through a part in document order.
type reader struct {
	*Part
	now    musicxml.Fraction // where the document stands in the measure
	graces map[string]int    // how many lead to the next note, by voice
	// ends are how many notes, marks and changes there were after each measure, and
	// stands how many marks before each note's.
	ends   []counts
	stands []int
}

type counts struct{ notes, marks, changes int }

func (r *reader) measure(m *musicxml.Measure) error {
	r.now = musicxml.Fraction{}
	clear(r.graces)
	for order := range m.Events {
		ev := &m.Events[order]
		if ev.Staff > r.Staves {
			r.Staves = min(ev.Staff, mostStaves)
		}
		switch ev.Kind {
		case musicxml.Note:
			if err := r.note(m, ev); err != nil {
				return musicxml.Locate(err, musicxml.Error{Measure: m.Number, Beat: m.Beat(ev.Onset), Code: notice.NoMusic,
					Hint: "correct the note and export the score again"})
			}
		case musicxml.Attributes:
			r.changes(m, ev, order)
		default:
			r.marksBeside(m, ev)
		}
		r.now = ev.After(r.now)
	}
	r.Measures = append(r.Measures, Measure{Measure: m})
	r.ends = append(r.ends, counts{len(r.Notes), len(r.Marks), len(r.Changes)})
	return nil
}

func (r *reader) note(m *musicxml.Measure, ev *musicxml.Event) error {
	n, err := ReadNote(ev)
	if err != nil {
		return err
	}
	n.Measure, n.Start = m.Index, m.Start.Add(ev.Onset)
	switch {
	case ev.Grace:
		if !ev.Chord {
			r.graces[ev.Voice]++
		}
		n.GraceOrder = max(1, r.graces[ev.Voice])
	default:
		delete(r.graces, ev.Voice)
	}
	r.stands = append(r.stands, len(r.Marks))
	r.Notes = append(r.Notes, n)
	if n.Notations != nil || n.Lyric != nil {
		r.marksAt(&n, len(r.Notes)-1)
	}
	return nil
}

// share gives every measure its own, and every note its marks, now that all of them
// stay where they are.
func (r *reader) share() {
	for i := range r.Marks {
		if at := r.Marks[i].note; at >= 0 {
			r.Marks[i].Note = &r.Notes[at]
		}
	}
	for i := range r.Notes {
		from := r.stands[i]
		to := from
		for to < len(r.Marks) && r.Marks[to].note == i {
			to++
		}
		if from < to {
			r.Notes[i].Marks = r.Marks[from:to:to]
		}
	}
	var from counts
	for i, to := range r.ends {
		m := &r.Measures[i]
		m.Notes = r.Notes[from.notes:to.notes:to.notes]
		m.Marks = r.Marks[from.marks:to.marks:to.marks]
		m.Changes = r.Changes[from.changes:to.changes:to.changes]
		from = to
	}
}

// StaffNumber is the staff that an element of <attributes> is for, counted from 1; 0 for all.
func StaffNumber(e *etree.Element) int {
	text := musicxml.Attr(e, "number")
	if text == "" { // as usual: to read it as a number would make an error first
		return 0
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		return 0
	}
	return max(n, 0)
}
