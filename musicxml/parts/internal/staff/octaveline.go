package staff

import (
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/draft"
)

// octaveLine is an 8va or 8vb line of one staff. The notes under it have their
// true pitch and are printed octaves lower (MusicXML 4.0, octave-shift: a printed
// 8va is of type "down").
type octaveLine struct {
	from, to musicxml.Position // to is after the last note
	open     bool
	number   string
	lowered  int              // octaves by which the notes are printed lower than they are
	marks    []*etree.Element // that draw it
}

// readOctaveLines opens and closes the octave lines of a direction.
func (p *Page) readOctaveLines(ev *musicxml.Event, at musicxml.Position) {
	for types := range musicxml.Each(ev.Element, "direction-type") {
		if e := musicxml.Child(types, "octave-shift"); e != nil {
			p.staff(ev.Staff).readOctaveLine(e, at)
		}
	}
}

func (st *staff) readOctaveLine(mark *etree.Element, at musicxml.Position) {
	number := musicxml.Attr(mark, "number")
	i := slices.IndexFunc(st.octave, func(l octaveLine) bool { return l.open && l.number == number })
	switch musicxml.Attr(mark, "type") {
	case "down", "up":
		if i >= 0 { // a line that was never closed ends where the next begins
			st.octave[i].open, st.octave[i].to = false, at
		}
		st.octave = append(st.octave, octaveLine{from: at, open: true, number: number,
			lowered: octavesOf(mark), marks: []*etree.Element{mark}})
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
func (l *octaveLine) covers(at musicxml.Position) bool {
	return l.from.Compare(at) <= 0 && (l.open || at.Compare(l.to) < 0)
}

// lowered is by how many octaves the lines in force print a note lower than it is.
func (st *staff) lowered(n *Note) int {
	sum := 0
	for i := range st.octave {
		if l := &st.octave[i]; l.covers(n.At()) {
			sum += l.lowered
		}
	}
	return sum
}

// fewLedgers is how many ledger lines are read without an octave line.
const fewLedgers = 2

// settleOctaveLines looks whether octave lines are still wanted. Outside keyboard
// parts, players read the ledger lines (trade/part-preparation.md, section 4): in a
// part that was moved, a line goes where no note under it needs more than two;
// every other one is reported. Keyboards, harps and bars laid out like keys keep
// theirs.
func (s *layout) settleOctaveLines() (changed bool) {
	for i := range s.page.Staves {
		st := &s.page.Staves[i]
		for k := 0; k < len(st.octave); k++ {
			l := &st.octave[k]
			if usesOctaveLines(s.InstrumentAt(l.from)) {
				continue
			}
			needless := s.needless(i+1, l)
			if needless && !l.open && (st.moved || s.OtherInstrument()) {
				l.remove()
				st.octave = slices.Delete(st.octave, k, k+1)
				k, changed = k-1, true
				continue
			}
			s.warnOctaveLine(l, needless)
		}
	}
	return changed
}

// usesOctaveLines reports whether an instrument's players expect octave lines; of
// an unknown one nothing is known against them.
func usesOctaveLines(in *instruments.Instrument) bool {
	return in == nil || in.Flags.Keyboard || in.Flags.Mallets || in.Staves > 1
}

// needless reports whether no note under the line would need more than two ledger
// lines without it.
func (s *layout) needless(number int, l *octaveLine) bool {
	for i := range s.page.Notes {
		n := &s.page.Notes[i]
		if n.Event.Staff == number && n.head() && l.covers(n.At()) && LedgerLines(s.page.position(n)+7*l.lowered) > fewLedgers {
			return false
		}
	}
	return true
}

// remove takes the line out of its directions, and a direction out of the part
// where it drew nothing else.
func (l *octaveLine) remove() {
	for _, mark := range l.marks {
		draft.DropMark(mark)
	}
}

func (s *layout) warnOctaveLine(l *octaveLine, needless bool) {
	text := "an octave line; players of " + s.InstrumentAt(l.from).Label("en", "") + " read the ledger lines"
	if needless {
		text += ", here two at most"
	}
	s.WarnAt(l.from, notice.OctaveLine, "%s", text)
}
