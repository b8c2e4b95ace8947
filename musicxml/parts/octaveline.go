package parts

import (
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// octaveLine is an 8va or 8vb line of one staff. The notes under it have their
// true pitch and are printed octaves lower (MusicXML 4.0, octave-shift: a printed
// 8va is of type "down").
type octaveLine struct {
	from, to point // to is after the last note
	open     bool
	number   string
	lowered  int // octaves by which the notes are printed lower than they are
	marks    []lineMark
}

// lineMark is one of the elements that draw a line.
type lineMark struct{ direction, element *etree.Element }

// readOctaveLines opens and closes the octave lines of a direction.
func (p *staffPage) readOctaveLines(ev *musicxml.Event, at point) {
	for _, token := range ev.Element.Child {
		types, ok := token.(*etree.Element)
		if !ok || types.Tag != "direction-type" {
			continue
		}
		if e := musicxml.Child(types, "octave-shift"); e != nil {
			p.staff(ev.Staff).readOctaveLine(lineMark{ev.Element, e}, at)
		}
	}
}

func (st *staff) readOctaveLine(mark lineMark, at point) {
	number := musicxml.Attr(mark.element, "number")
	i := slices.IndexFunc(st.octave, func(l octaveLine) bool { return l.open && l.number == number })
	switch musicxml.Attr(mark.element, "type") {
	case "down", "up":
		if i >= 0 { // a line that was never closed ends where the next begins
			st.octave[i].open, st.octave[i].to = false, at
		}
		st.octave = append(st.octave, octaveLine{from: at, open: true, number: number,
			lowered: octavesOf(mark.element), marks: []lineMark{mark}})
	case "stop":
		if i >= 0 {
			l := &st.octave[i]
			l.open, l.to, l.marks = false, at, append(l.marks, mark)
		}
	case "continue":
		if i >= 0 {
			st.octave[i].marks = append(st.octave[i].marks, mark)
		}
	}
}

// octavesOf reads an octave line's size: 8 is one octave, 15 are two.
func octavesOf(e *etree.Element) int {
	octaves := 1
	if n, err := strconv.Atoi(musicxml.Attr(e, "size")); err == nil && n > 0 && n < 100 {
		octaves = (n - 1) / 7
	}
	if musicxml.Attr(e, "type") == "up" {
		return -octaves
	}
	return octaves
}

// covers reports whether a note stands under the line.
func (l *octaveLine) covers(at point) bool {
	return l.from.compare(at) <= 0 && (l.open || at.compare(l.to) < 0)
}

// lowered is by how many octaves the lines in force print a note lower than it is.
func (st *staff) lowered(n *staffNote) int {
	sum := 0
	for i := range st.octave {
		if l := &st.octave[i]; l.covers(n.at()) {
			sum += l.lowered
		}
	}
	return sum
}
