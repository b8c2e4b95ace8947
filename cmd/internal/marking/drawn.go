package marking

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/cmd/internal/explain"
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// Drawn is an answer as a page shows it: the staff that was handed in, the right
// one, the question, and which notes of the first two each mistake is about.
type Drawn struct {
	// Part names the staff; Several says that the exercise has more of them.
	Part    string
	Several bool
	// Answer has a staff for each of those that the answer was written on.
	Answer []*etree.Element
	Right  *etree.Element
	// Given is nil where the question is not known.
	Given *etree.Element
	// Aligned says that all three have the same bars, so that they can stand one
	// above the other.
	Aligned bool
	// Wrong are the notes of the answer, Wanted those of the right one, by the
	// mistake's place in Result.Mistakes.
	Wrong, Wanted [][]DrawnNote
	// Instrument is nil where the key does not name it; From says which of its pitches
	// was given; Moved is the interval that was asked for.
	Instrument *instruments.Instrument
	From       explain.Side
	Moved      pitch.Interval
}

// DrawnNote is a note on a staff: the measure counted from 0 in its part, the onset
// in quarter notes. A place where something is missing has no pitch.
type DrawnNote struct {
	Measure  int
	Onset    musicxml.Fraction
	Pitch    pitch.Pitch
	HasPitch bool
}

// Drawn gathers what a page shows, staff by staff; none for a file that could not be
// marked.
func (r Result) Drawn() []*Drawn {
	var list []*Drawn
	for _, e := range r.examined {
		list = append(list, e.drawn(r))
	}
	return list
}

func (e examined) drawn(r Result) *Drawn {
	x := e.examiner
	d := &Drawn{Part: x.Part, Several: len(r.examined) > 1, Instrument: x.Instrument, From: x.From, Moved: x.moved}
	answer := e.handedIn.trimmed()
	d.Answer, d.Right = []*etree.Element{answer.excerpt()}, x.expected.excerpt()
	if b := answer.beside; b != nil {
		beside := *answer
		beside.part, beside.staff = b.part, b.staff
		d.Answer = append(d.Answer, beside.excerpt())
	}
	d.Aligned = sameBars(x.expected, answer) && len(x.align.barAlignment.added) == 0 && !slices.ContainsFunc(x.align.barAlignment.role, func(r role) bool { return r != barKept })
	if x.given != nil && x.given.part != nil {
		d.Given = x.given.excerpt()
	}
	for i, m := range r.Mistakes {
		var wrong, wanted []DrawnNote
		if slices.Contains(e.mistakes, i) {
			wrong, wanted = x.wrongNotes(m, answer), x.wantedNotes(m)
		}
		d.Wrong, d.Wanted = append(d.Wrong, wrong), append(d.Wanted, wanted)
	}
	return d
}

// excerpt is the staff as a part of its own.
func (m *music) excerpt() *etree.Element {
	first, last := m.bars[0].index, m.bars[len(m.bars)-1].index
	return explain.Section(m.part, first, last, m.staff)
}

// wrongNotes are the answer's notes that a mistake is about, or the place where
// something is missing.
func (x *examiner) wrongNotes(m Mistake, answer *music) []DrawnNote {
	var list []DrawnNote
	base := answer.bars[0].index
	add := func(h head, has bool) {
		list = append(list, DrawnNote{h.drawn.bar - base, h.drawn.onset, h.pitch, has})
	}
	for _, i := range m.heads {
		if k := x.align.to[i]; k >= 0 {
			add(x.align.heads[k], true)
		}
	}
	for _, k := range m.extra {
		add(x.align.heads[k], true)
	}
	if len(list) == 0 {
		add(x.nearestHead(m), false)
	}
	return list
}

// nearestHead is the answer's head before which something is missing, or its last.
func (x *examiner) nearestHead(m Mistake) head {
	first := 0
	switch {
	case len(m.heads) > 0:
		first = m.heads[0]
	case m.after < len(x.expected.bars):
		_, first = x.expected.inBar(m.after)
	}
	for i := first; i < len(x.align.to); i++ {
		if k := x.align.to[i]; k >= 0 {
			return x.align.heads[k]
		}
	}
	return x.align.heads[len(x.align.heads)-1]
}

// wantedNotes are the right staff's notes that a mistake is about.
func (x *examiner) wantedNotes(m Mistake) []DrawnNote {
	var list []DrawnNote
	base := x.expected.bars[0].index
	for _, i := range m.heads {
		h := x.expected.heads[i]
		list = append(list, DrawnNote{h.drawn.bar - base, h.drawn.onset, h.pitch, true})
	}
	return list
}
