package reading

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// moment reads the notes that start together: first every sign is seen, then the
// notes without one are read.
func (r *reader) moment(items []item, at Note) error {
	from := len(r.notes)
	for i := range items {
		n, err := r.note(&items[i], at)
		if err != nil {
			return err
		}
		r.notes = append(r.notes, n)
	}
	notes := r.notes[from:]
	for i := range notes {
		r.expect(&notes[i])
	}
	for i := range notes {
		if notes[i].Sign != "" && notes[i].From != Unread {
			r.staff(notes[i].Staff).seeSign(&notes[i])
		}
	}
	for i := range notes {
		if notes[i].Sign == "" && notes[i].From != Unread {
			r.staff(notes[i].Staff).readUnsigned(&notes[i])
		}
		r.ties.start(&notes[i])
	}
	return nil
}

// note takes down what is printed of one note. From is Unread where there is no
// pitch to read, and something else until it has been read.
func (r *reader) note(it *item, at Note) (Note, error) {
	s := r.staff(it.staff)
	n := at
	n.Element, n.Onset, n.Duration = it.element, it.onset, it.duration
	n.Start = at.Start.Add(it.onset)
	n.Beat, n.Staff, n.Voice, n.Grace, n.Chord = r.beat(it.onset), it.staff, it.voice, it.grace, it.chord
	n.Hidden, n.transpose = !printed(it.element), s.transpose
	err := n.details()
	n.Position = s.clef.position(n.Written, s.lower())
	n.Read = n.Written
	if !n.Unpitched && !n.Hidden && s.clef.reads {
		n.From = Signature
		n.Read = s.clef.natural(n.Position, s.lower())
	}
	return n, err
}

// middleLine is where an unpitched note without a display position stands, a
// percussion clef counting as treble (MusicXML 4.0, unpitched).
var middleLine = pitchAt(treble.bottom + 4)

// details fills what stands in the note's own children.
func (n *Note) details() error {
	var err error
	for e := range n.Element.ChildElementsSeq() {
		switch e.Tag {
		case "pitch":
			n.Written, err = readPitch(e, "")
		case "unpitched":
			n.Unpitched, n.Written = true, middleLine
			if len(e.ChildElements()) > 0 {
				n.Written, err = readPitch(e, "display-")
			}
		case "cue":
			n.Cue = true
		case "accidental":
			n.Sign = musicxml.Text(e)
			n.Courtesy = isCourtesy(e)
		case "tie":
			n.tie(e)
		case "notations":
			n.notations(e)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// notations looks for ties as drawn, and for an editor's accidental above or
// below the note.
func (n *Note) notations(e *etree.Element) {
	for c := range e.ChildElementsSeq() {
		switch c.Tag {
		case "tied":
			n.tie(c)
		case "accidental-mark":
			n.proposal = musicxml.Text(c)
		}
	}
}

// tie takes <tie> and <tied> alike: the first is what is heard and the second
// what is drawn, and files have one or both.
func (n *Note) tie(e *etree.Element) {
	switch musicxml.Attr(e, "type") {
	case "start":
		n.TieStart = true
	case "stop":
		n.TieStop = true
	}
}

func isCourtesy(e *etree.Element) bool {
	return slices.ContainsFunc([]string{"cautionary", "editorial", "parentheses", "bracket"}, func(status string) bool { return musicxml.Attr(e, status) == "yes" })
}

// expect works out what a note would be read as before any sign of this moment.
func (r *reader) expect(n *Note) {
	if n.From == Unread {
		return
	}
	s := r.staff(n.Staff)
	place := spot{n.Read.Step, n.Read.Octave}
	n.reminder = s.otherwise(n)
	if n.TieStop {
		if alter, ok := r.ties.stop(n); ok {
			n.without, n.From = alter, Tie
			return
		}
	}
	if alter, ok := s.bar.at(place); ok {
		n.without, n.From = alter, Bar
		return
	}
	n.without, n.From = s.signature[place.step], Signature
}

// seeSign reads a note that has a sign, which then holds on the staff.
func (s *staff) seeSign(n *Note) {
	alter, known := signAlters(n.Sign)
	if !known {
		alter = n.Written.Alter
	}
	n.Read.Alter, n.From = alter, Sign
	s.bar.set(spot{n.Read.Step, n.Read.Octave}, alter)
}

// readUnsigned reads a note that has none: by its tie, or by what holds on the
// staff, the signs of this very moment included.
func (s *staff) readUnsigned(n *Note) {
	n.Read.Alter = n.without
	if alter, ok := s.bar.at(spot{n.Read.Step, n.Read.Octave}); ok && n.From != Tie {
		n.Read.Alter, n.From = alter, Bar
	}
	if alter, known := signAlters(n.proposal); known && alter == n.Written.Alter {
		n.Read.Alter, n.From = alter, Sign
	}
}

// otherwise reports whether the note's letter was altered otherwise, in any
// octave, in this bar or the one before.
func (s *staff) otherwise(n *Note) bool {
	return s.bar.otherwise(n) || s.before.otherwise(n)
}

func (s signs) otherwise(n *Note) bool {
	for i := range s {
		if s[i].step == n.Written.Step && s[i].alter != n.Written.Alter {
			return true
		}
	}
	return false
}
