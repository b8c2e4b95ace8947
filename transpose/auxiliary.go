package transpose

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// auxiliaries are the pitches that the source's page gives to the notes next to
// a note with an ornament. Where the player no longer sees the signature that
// made them, an accidental-mark must (trade/notation-rules.md §14: a trill stands
// without accidental when the upper note is that of the signature).
type auxiliaries struct {
	below, above auxiliary
}

type auxiliary struct {
	pitch pitch.Pitch
	known bool
}

// auxiliarySides says on which sides of their note ornaments have auxiliary
// notes: +1 above, −1 below (MusicXML 4.0: the mordent is the one with the
// vertical line, which goes to the lower note).
var auxiliarySides = map[string][]int{
	"trill-mark": {1}, "shake": {1}, "inverted-mordent": {1}, "mordent": {-1},
	"turn": {1, -1}, "delayed-turn": {1, -1}, "inverted-turn": {1, -1}, "delayed-inverted-turn": {1, -1},
	"vertical-turn": {1, -1}, "inverted-vertical-turn": {1, -1},
}

// readAuxiliaries notes what the page says next to a note with an ornament, and takes
// out the signs that the way here put there.
func (n *note) readAuxiliaries(page *inForce) {
	if !hasOrnament(n) {
		return
	}
	n.auxiliaries = &auxiliaries{below: page.auxiliary(n.source, -1), above: page.auxiliary(n.source, 1)}
	for _, notations := range musicxml.Children(n.event.Element, "notations") {
		for _, ornaments := range musicxml.Children(notations, "ornaments") {
			for _, mark := range musicxml.Children(ornaments, "accidental-mark") {
				n.takeOurs(mark)
			}
		}
	}
}

func (n *note) takeOurs(mark *etree.Element) {
	value, ok := AccidentalValue(musicxml.Text(mark))
	if !ok || !takeRemark(mark, remarkAuxiliary) {
		return
	}
	beside := &n.auxiliaries.above
	if AuxiliarySide(mark, "") < 0 {
		beside = &n.auxiliaries.below
	}
	beside.pitch.Alter, beside.known = value, true
	mark.Parent().RemoveChild(mark)
}

// auxiliary reads the page so many lines away from a note.
func (f *inForce) auxiliary(p pitch.Pitch, steps int) auxiliary {
	line := p.Place() + steps
	if line < 0 || line >= lines {
		return auxiliary{}
	}
	a := auxiliary{pitch: pitch.Pitch{Step: pitch.Step(line % 7), Octave: line / 7}}
	a.pitch.Alter, a.known = f.says(a.pitch)
	return a
}

// AuxiliarySides are the sides of its note on which an ornament has auxiliary notes, 1
// above and -1 below; none for another sign.
func AuxiliarySides(ornament string) []int { return auxiliarySides[ornament] }

// markAuxiliaries adds the signs that the ornaments of a note need on the new
// page.
func (m *mover) markAuxiliaries(n *note, page *inForce) {
	if n.auxiliaries == nil {
		return
	}
	by, _ := pitch.Between(n.source, n.pitch)
	for _, notations := range musicxml.Children(n.event.Element, "notations") {
		for _, ornaments := range musicxml.Children(notations, "ornaments") {
			for _, e := range ornaments.ChildElements() {
				for _, side := range auxiliarySides[e.Tag] {
					m.markAuxiliary(n, e, by, side, page)
				}
			}
		}
	}
}

func (m *mover) markAuxiliary(n *note, ornament *etree.Element, by pitch.Interval, side int, page *inForce) {
	from := n.auxiliaries.above
	if side < 0 {
		from = n.auxiliaries.below
	}
	reads := page.auxiliary(n.pitch, side)
	to := by.Apply(from.pitch)
	if !from.known || reads.known && reads.pitch == to || hasMark(ornament, side) {
		return
	}
	name, ok := accidentalFor(to.Alter, "")
	if !ok {
		return
	}
	mark := etree.NewElement("accidental-mark")
	mark.SetText(name)
	mark.CreateAttr("placement", map[int]string{1: "above", -1: "below"}[side])
	if m.options.AsPrinted {
		addRemark(mark, remarkAuxiliary)
	}
	ornament.Parent().InsertChildAt(ornament.Index()+1, mark)
}

// hasMark reports whether an ornament has a sign on that side already; its marks
// follow it.
func hasMark(ornament *etree.Element, side int) bool {
	for e := ornament.NextSibling(); e != nil && e.Tag == "accidental-mark"; e = e.NextSibling() {
		if AuxiliarySide(e, ornament.Tag) == side {
			return true
		}
	}
	return false
}
