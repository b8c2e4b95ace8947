package transpose

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// moveAccidentalMarks gives the accidentals above and below a note the kind they
// have after the move. One among the ornaments belongs to the auxiliary note: an
// accidental over a turn concerns the upper note, under it the lower one
// (Gehrkens 1914, s. 71). One outside is an editorial sign for the note itself.
func (m *mover) moveAccidentalMarks(n *note) {
	if n.notations == nil || n.pitch == n.source {
		return
	}
	for _, token := range n.event.Element.Child {
		if notations, ok := token.(*etree.Element); ok && notations.Tag == "notations" {
			m.moveMarksIn(n, notations)
		}
	}
}

func (m *mover) moveMarksIn(n *note, notations *etree.Element) {
	for e := range notations.ChildElementsSeq() {
		switch e.Tag {
		case "accidental-mark":
			m.moveMark(n, e, 0)
		case "ornaments":
			m.moveOrnamentMarks(n, e)
		}
	}
}

func (m *mover) moveOrnamentMarks(n *note, ornaments *etree.Element) {
	ornament := ""
	for e := range ornaments.ChildElementsSeq() {
		if e.Tag == "accidental-mark" {
			m.moveMark(n, e, AuxiliarySide(e, ornament))
			continue
		}
		ornament = e.Tag
	}
}

// AuxiliarySide says on which side of the note the auxiliary note of an <accidental-mark>
// lies, 1 above and -1 below: the mark's own placement decides, else the ornament it follows.
func AuxiliarySide(mark *etree.Element, ornament string) int {
	switch musicxml.Attr(mark, "placement") {
	case "above":
		return 1
	case "below":
		return -1
	}
	if sides := auxiliarySides[ornament]; len(sides) > 0 {
		return sides[0]
	}
	return 1
}

// moveMark moves the sign of a note that lies steps letters from the main note.
func (m *mover) moveMark(n *note, mark *etree.Element, steps int) {
	moved := func(s printedAccidental, to pitch.Pitch) (string, bool) { return movedMark(s, to, steps) }
	old, _ := takeAccidental(mark, n.source, moved)
	name, ok := moved(old, n.pitch)
	if !ok {
		m.warn(n.place, notice.NoSign, "the accidental \""+old.name+"\" of an ornament cannot be moved to "+n.pitch.String())
	}
	musicxml.SetText(mark, name)
	if m.options.AsPrinted && !comesBack(mark, old, n.pitch, moved) {
		remember(mark, old)
	}
}

// movedMark returns the sign of a note that lies steps letters from the main
// note, after the main note went to another pitch.
func movedMark(s printedAccidental, to pitch.Pitch, steps int) (string, bool) {
	value, known := accidentalValues[s.name]
	if !known {
		// An arrow or a foreign sign: it moves as a sign at the note itself would.
		return movedAccidental(s.name, s.at.Alter, to.Alter, true)
	}
	return movedBeside(s, value, to, steps)
}

// movedBeside is movedMark for a sign that stands for an alteration.
func movedBeside(s printedAccidental, value pitch.Alter, to pitch.Pitch, steps int) (string, bool) {
	by, _ := pitch.Between(s.at, to)
	line := s.at.Place() + steps
	beside := pitch.Pitch{Step: pitch.Step(line - 7*pitch.FloorDiv(line, 7)), Alter: value, Octave: pitch.FloorDiv(line, 7)}
	if name, ok := accidentalFor(by.Apply(beside).Alter, s.name); ok {
		return name, true
	}
	return s.name, false
}
