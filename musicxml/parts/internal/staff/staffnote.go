package staff

import (
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/transpose/pitch"
)

// Note is a note or rest of the part with its place on the staff.
type Note struct {
	Event   musicxml.Event // a copy: the timeline is laid out again in the same memory
	Pitch   *etree.Element // <pitch>, <unpitched> or a <rest> that has a place on the staff, else nil
	stem    *etree.Element // nil where none is written
	measure int
	order   int // of the event within its measure
	place   int // letter steps from C0
	Sound   int // semitones of the written pitch, as MIDI counts them; fractions cut off
	was     int // position on the staff in the score
	now     int // position on the staff in the part
	stemWas direction
	stemNow direction
	beam    beamState
	turned  bool // its stem was worked out afresh
	hidden  bool
	tied    bool // a tie leads on from here
}

// beamState is what the first beam does at a note.
type beamState uint8

const (
	noBeam beamState = iota
	beamBegins
	beamGoesOn
	beamEnds
)

// Page is the part as it stands on its staves: every note with its place,
// and for each staff its clefs and octave lines. A position on a staff counts
// lines and spaces upward from 0, the bottom line.
type Page struct {
	Notes     []Note
	Staves    []staff
	partClefs []partClef
	voices    []bool // of each measure: more than one voice is in it
}

// partClef is a clef that a concert score says for the part.
type partClef struct {
	musicxml.Position
	staff int // 0 for all
	clef  instruments.Clef
}

// staff is one staff of the part.
type staff struct {
	clefs  []clefChange
	octave []octaveLine
	lines  int  // of the staff; 5 unless the part says otherwise
	moved  bool // the player's notes stand on other letters than the score's
	cursor int  // of changeAt
}

// maxStaves bounds the staves of one part that are followed; no instrument has
// more.
const maxStaves = 16

// Read takes down how a part stands on its staves in the score.
func (p *Page) Read(s *draft.Draft) error {
	p.begin(s.Timeline)
	for i := range s.Timeline.Measures {
		p.readMeasure(&s.Timeline.Measures[i])
	}
	p.sortClefs()
	for i := range p.Notes {
		if n := &p.Notes[i]; n.Pitch != nil {
			n.was = p.position(n)
		}
	}
	return nil
}

// begin empties the page and makes room for a part's notes.
func (p *Page) begin(t *musicxml.Timeline) {
	count := 0
	for i := range t.Measures {
		for k := range t.Measures[i].Events {
			if t.Measures[i].Events[k].Kind == musicxml.Note {
				count++
			}
		}
	}
	*p = Page{Notes: slices.Grow(p.Notes[:0], count), voices: slices.Grow(p.voices[:0], len(t.Measures))[:len(t.Measures)]}
	clear(p.voices)
}

// Forget lets go of the notes of a page that was read before.
func (p *Page) Forget() {
	clear(p.Notes[:cap(p.Notes)])
	*p = Page{Notes: p.Notes[:0], voices: p.voices[:0]}
}

// staff returns a staff by its number from 1, new where it has not been heard of.
func (p *Page) staff(number int) *staff {
	number = min(max(number, 1), maxStaves)
	for len(p.Staves) < number {
		p.Staves = append(p.Staves, staff{lines: 5})
	}
	return &p.Staves[number-1]
}

// readMeasure adds the notes, clefs and octave lines of a measure. An octave line
// begins where its direction stands: an offset moves only what is seen of it
// (MusicXML 4.0, offset).
func (p *Page) readMeasure(m *musicxml.Measure) {
	var now musicxml.Fraction
	first := len(p.Notes)
	for order := range m.Events {
		ev := &m.Events[order]
		at := musicxml.Position{Measure: m.Index, Onset: now}
		switch ev.Kind {
		case musicxml.Note:
			p.voices[m.Index] = p.voices[m.Index] || len(p.Notes) > first && ev.Voice != p.Notes[first].Event.Voice
			p.Notes = append(p.Notes, readStaffNote(ev, m.Index, order))
			p.staff(ev.Staff)
		case musicxml.Attributes:
			p.readAttributes(ev.Element, at, order)
		case musicxml.Direction:
			p.readOctaveLines(ev, at)
		}
		now = ev.After(now)
	}
}

// readAttributes takes down clefs and the number of staff lines.
func (p *Page) readAttributes(attributes *etree.Element, at musicxml.Position, order int) {
	for e := range attributes.ChildElementsSeq() {
		switch e.Tag {
		case "clef":
			if !music.IsAdditional(e) {
				st := p.staff(max(music.StaffNumber(e), 1))
				st.clefs = append(st.clefs, clefChange{Position: at, order: order, element: e, clef: ReadClef(e)})
			}
		case "for-part":
			p.readPartClef(e, at)
		case "staff-details":
			if n, err := strconv.Atoi(musicxml.ChildText(e, "staff-lines")); err == nil && n >= 0 && n < 100 {
				p.staff(max(music.StaffNumber(e), 1)).lines = n
			}
		}
	}
}

// readPartClef takes down the clef that a concert score says for the part. Without
// a number it is for all staves (MusicXML 4.0, for-part).
func (p *Page) readPartClef(forPart *etree.Element, at musicxml.Position) {
	e := musicxml.Child(forPart, "part-clef")
	if e == nil {
		return
	}
	p.partClefs = append(p.partClefs, partClef{at, music.StaffNumber(forPart), ReadClef(e)})
}

// sortClefs puts the clefs of every staff in the order of time.
func (p *Page) sortClefs() {
	for i := range p.Staves {
		slices.SortStableFunc(p.Staves[i].clefs, func(a, b clefChange) int { return a.Position.Compare(b.Position) })
	}
}

// readStaffNote reads what matters of a <note>. Faulty ones are refused when the part
// is moved.
func readStaffNote(ev *musicxml.Event, measure, order int) Note {
	read, _ := music.ReadNote(ev)
	n := Note{Event: *ev, measure: measure, order: order,
		stem: read.Stem, hidden: read.Hidden, tied: read.Ties.Start()}
	for level, does := range read.Beams() {
		if level == 1 {
			n.beam = beamStates[does]
		}
	}
	if !read.Rest || read.Placed {
		n.Pitch = read.Head
	}
	if n.Pitch != nil {
		n.standAt(read.Pitch)
	}
	return n
}

var beamStates = map[string]beamState{"begin": beamBegins, "continue": beamGoesOn, "end": beamEnds}

// readPlace reads the note's pitch again; what has none stands where it stood.
func (n *Note) readPlace() {
	if n.Pitch == nil || n.Pitch.Tag != "pitch" {
		return
	}
	if p, err := music.ReadPitch(n.Pitch); err == nil {
		n.standAt(p)
	}
}

func (n *Note) standAt(p pitch.Pitch) {
	n.place = p.Place()
	alter, _ := p.Alter.Whole()
	n.Sound = pitch.At(n.place).NoteNumber() + alter
}

// showAt writes another display position, in letter steps from C0. An unpitched
// note without one stands on the middle line in every clef.
func (n *Note) showAt(place int) {
	if _, said := music.ReadShown(n.Pitch); !said {
		return
	}
	p := pitch.At(place)
	musicxml.SetChildText(n.Pitch, "display-step", p.Step.String())
	musicxml.SetChildText(n.Pitch, "display-octave", strconv.Itoa(p.Octave))
	n.place = place
}

// Unpitched reports whether the note stands on the staff without being a pitch.
func (n *Note) Unpitched() bool { return n.Pitch != nil && n.Pitch.Tag == "unpitched" }

// head reports whether a notehead is seen.
func (n *Note) head() bool { return n.Pitch != nil && !n.Event.Rest && !n.hidden }

// position works out where a note stands, in the clef and under the octave lines
// in force.
func (p *Page) position(n *Note) int {
	st := p.staff(n.Event.Staff)
	return n.place - BottomLine(st.clefAt(n)) - 7*st.lowered(n)
}

// clefAt returns the clef in force for a note; treble where the staff has none
// (MusicXML 4.0, clef-sign: none reads as treble).
func (st *staff) clefAt(n *Note) instruments.Clef {
	if i := st.changeAt(n); i >= 0 {
		return st.clefs[i].clef
	}
	return TrebleClef
}

// changeAt returns the index of the clef in force for a note, -1 before the first.
func (st *staff) changeAt(n *Note) int {
	i := min(st.cursor, len(st.clefs)-1)
	for i+1 < len(st.clefs) && st.clefs[i+1].holdsFor(n) {
		i++
	}
	for i >= 0 && !st.clefs[i].holdsFor(n) {
		i--
	}
	st.cursor = i
	return i
}

// At is when the note begins.
func (n *Note) At() musicxml.Position {
	return musicxml.Position{Measure: n.measure, Onset: n.Event.Onset}
}
