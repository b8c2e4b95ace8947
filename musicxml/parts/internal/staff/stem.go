package staff

import (
	"slices"

	"deskpart/musicxml"
)

// direction of a stem.
type direction int8

const (
	stemDown direction = -1
	noStem   direction = 0
	stemUp   direction = 1
)

func (d direction) String() string {
	switch d {
	case stemUp:
		return "up"
	case stemDown:
		return "down"
	}
	return ""
}

// stemOf reads the direction of a note's stem; none and double are none.
func stemOf(n *Note) direction {
	if n.stem == nil {
		return noStem
	}
	switch musicxml.Text(n.stem) {
	case "up":
		return stemUp
	case "down":
		return stemDown
	}
	return noStem
}

// Middle is the position of the middle line.
const Middle = 4

// TurnStems works the stems out afresh where a note has another place on the
// staff than in the score, or where its staff was shared with a voice that is
// gone. All notes that are beamed together have one direction.
// split: the part is one player's of a shared staff.
func (p *Page) TurnStems(split bool) error {
	t := stemTurner{page: p, split: split}
	notes := p.Notes
	for i := 0; i < len(notes); {
		chord := i + 1
		for chord < len(notes) && notes[chord].Event.Chord {
			chord++
		}
		if !notes[i].Event.Rest {
			t.add(i, chord)
		}
		i = chord
	}
	for i := range t.open {
		t.turn(t.open[i].notes)
	}
	return nil
}

// stemTurner follows the beams of every voice.
type stemTurner struct {
	page  *Page
	split bool // the part is one player's of a shared staff
	open  []beamGroup
	chord []int
}

// beamGroup is the notes under one beam.
type beamGroup struct {
	voice string
	grace bool
	notes []int
}

// add takes the note or chord from first to last, last excluded.
func (t *stemTurner) add(first, last int) {
	n := &t.page.Notes[first]
	k := slices.IndexFunc(t.open, func(g beamGroup) bool { return g.voice == n.Event.Voice && g.grace == n.Event.Grace })
	switch n.beam {
	case noBeam:
		t.chord = appendRange(t.chord[:0], first, last)
		t.turn(t.chord)
	case beamBegins:
		if k < 0 {
			t.open = append(t.open, beamGroup{voice: n.Event.Voice, grace: n.Event.Grace})
			k = len(t.open) - 1
		}
		t.turn(t.open[k].notes) // one that was never ended
		t.open[k].notes = appendRange(t.open[k].notes[:0], first, last)
	default:
		if k < 0 {
			t.open = append(t.open, beamGroup{voice: n.Event.Voice, grace: n.Event.Grace})
			k = len(t.open) - 1
		}
		t.open[k].notes = appendRange(t.open[k].notes, first, last)
		if n.beam == beamEnds {
			t.turn(t.open[k].notes)
			t.open[k].notes = t.open[k].notes[:0]
		}
	}
}

func appendRange(list []int, first, last int) []int {
	for i := first; i < last; i++ {
		list = append(list, i)
	}
	return list
}

// turn gives the notes that share a stem or a beam their direction.
func (t *stemTurner) turn(group []int) {
	if len(group) == 0 {
		return
	}
	moved, alone := t.split, true
	staff := t.page.Notes[group[0]].Event.Staff
	for _, i := range group {
		n := &t.page.Notes[i]
		n.stemWas = stemOf(n)
		n.stemNow = n.stemWas
		moved = moved || n.was != n.now
		// A beam from staff to staff stays as it is drawn.
		alone = alone && n.Event.Staff == staff && !t.shared(n, i)
	}
	if !moved || !alone || t.page.staff(staff).lines != 5 || !lettered(t.page.staff(staff).clefAt(&t.page.Notes[group[0]])) {
		return
	}
	now := t.oneVoice(group)
	for _, i := range group {
		t.turnOne(&t.page.Notes[i], now)
	}
}

// turnOne turns the stem of a note, where it has one.
func (t *stemTurner) turnOne(n *Note, now direction) {
	n.turned = true
	if n.stemWas == noStem {
		if n.stem == nil { // a whole note: its marks stand as if it had a stem
			n.stemWas, n.stemNow = virtualStem(n.was), virtualStem(n.now)
		}
		return
	}
	n.stemNow = now
	if n.stemNow != n.stemWas {
		musicxml.SetText(n.stem, now.String())
	}
}

func virtualStem(position int) direction {
	if position < Middle {
		return stemUp
	}
	return stemDown
}

// oneVoice is the direction of stems where one voice has the staff: notes below
// the middle line up, above it down, and on it down; a chord or a beam as the
// note farthest from the middle line has it, and where two are as far, as most
// noteheads have it (trade/notation-rules.md, section 9). Grace notes go up.
func (t *stemTurner) oneVoice(group []int) direction {
	if t.page.Notes[group[0]].Event.Grace {
		return stemUp
	}
	above, below, balance := 0, 0, 0
	for _, i := range group {
		d := t.page.Notes[i].now - Middle
		above, below = max(above, d), max(below, -d)
		switch {
		case d > 0:
			balance++
		case d < 0:
			balance--
		}
	}
	if below > above || below == above && balance < 0 {
		return stemUp
	}
	return stemDown
}

// shared reports whether another voice is seen on the note's staff while it
// sounds: then stems tell the voices apart and stay as they are.
func (t *stemTurner) shared(n *Note, i int) bool {
	if !t.page.voices[n.measure] {
		return false
	}
	for k := i - 1; k >= 0 && t.page.Notes[k].measure == n.measure; k-- {
		if t.page.Notes[k].beside(n) {
			return true
		}
	}
	for k := i + 1; k < len(t.page.Notes) && t.page.Notes[k].measure == n.measure; k++ {
		if t.page.Notes[k].beside(n) {
			return true
		}
	}
	return false
}

// beside reports whether two notes or rests of different voices are seen at one
// time on one staff.
func (n *Note) beside(o *Note) bool {
	if n.hidden || n.Event.Staff != o.Event.Staff || n.Event.Voice == o.Event.Voice {
		return false
	}
	a, b := &n.Event, &o.Event
	if a.Onset == b.Onset {
		return true
	}
	return a.Onset.Less(b.Onset.Add(b.Duration)) && b.Onset.Less(a.Onset.Add(a.Duration))
}
