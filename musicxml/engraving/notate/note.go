package notate

import (
	"math"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/fonts"
	"deskpart/musicxml/music"
	"deskpart/transpose/pitch"
)

// chord reads the notes of one stem, or a rest. Notes that stand on another staff
// than the first are an event there.
func (m *measureReader) chord(notes []music.Note) {
	byStaff := map[int]*engraving.Event{}
	var staves []int
	for i := range notes {
		n := &notes[i]
		if musicxml.Child(n.Element, "notehead-text") != nil && !n.Hidden {
			m.census.miss("notehead-text", m.bar)
		}
		if n.Notehead != nil && musicxml.Text(n.Notehead) == "none" && musicxml.Text(n.Stem) == "none" && !n.Hidden {
			m.census.miss("note without head and stem", m.bar)
		}
		staff := m.staff(n.Staff)
		e := byStaff[staff]
		if e == nil {
			made := m.event(n)
			e = &made
			byStaff[staff] = e
			staves = append(staves, staff)
		}
		if !n.Rest {
			e.Notes = append(e.Notes, m.head(n, staff))
		}
		m.notations(n, staff, e)
		e.Hidden = e.Hidden && n.Hidden
	}
	for _, staff := range staves {
		v := m.voice(staff, notes[0].Voice)
		v.Events = append(v.Events, *byStaff[staff])
	}
}

// event reads what the notes of a chord share from its first.
func (m *measureReader) event(n *music.Note) engraving.Event {
	e := engraving.Event{
		Onset: n.Onset, Duration: n.Duration, Grace: n.Grace, Small: n.Small(), Hidden: n.Hidden,
		Stem: stems[musicxml.Text(n.Stem)],
	}
	if grace := musicxml.Child(n.Element, "grace"); grace != nil {
		e.Slash = musicxml.Attr(grace, "slash") == "yes"
	}
	e.Ratio.Actual, e.Ratio.Normal = n.Ratio()
	m.readValue(&e, n)
	if n.Rest && n.Placed {
		e.RestPosition = &engraving.Place{Step: int(n.Pitch.Step), Octave: clampOctave(n.Pitch.Octave)}
	}
	m.readBeams(&e, n)
	m.readLyrics(&e, n)
	return e
}

var stems = map[string]engraving.Stem{"up": engraving.StemUp, "down": engraving.StemDown, "none": engraving.StemNone}

// readValue reads the printed value; where there is none, it is found from the
// duration.
func (m *measureReader) readValue(e *engraving.Event, n *music.Note) {
	value, known := engraving.ParseValue(musicxml.Text(n.Type))
	e.Value, e.Dots = value, min(n.Dots, 4)
	if !e.Duration.Valid() {
		e.Duration = musicxml.Fraction{}
	}
	if n.Rest {
		whole := n.Onset.Sign() == 0 && n.Duration == m.source.Length && (!known || value == engraving.Whole)
		e.FullBar = whole || n.WholeBar()
	}
	if !known && !n.Grace {
		e.Value, e.Dots = valueOf(n.Duration, e.Ratio)
	}
	if !known && n.Grace {
		e.Value = engraving.Eighth
	}
}

// valueOf finds the value and dots nearest to a duration, from above.
func valueOf(duration musicxml.Fraction, ratio engraving.Ratio) (engraving.Value, int) {
	for v := engraving.Long; v <= engraving.Value256; v++ {
		for dots := range 3 {
			if engraving.Length(v, dots, ratio) == duration {
				return v, dots
			}
		}
	}
	if duration.Sign() <= 0 {
		return engraving.Quarter, 0
	}
	v := engraving.Value(math.Ceil(-math.Log2(duration.Float()/4) - 1e-9))
	return max(engraving.Long, min(v, engraving.Value256)), 0
}

// head reads one head.
func (m *measureReader) head(n *music.Note, staff int) engraving.Note {
	head := engraving.Note{
		Place: engraving.Place{Step: int(n.Pitch.Step), Octave: clampOctave(n.Pitch.Octave)}, Alter: float64(n.Pitch.Alter) / float64(pitch.Semitone), Unpitched: n.Unpitched, Hidden: n.Hidden,
		TieTo: n.Ties.Start(), TieFrom: n.Ties.Stop(), Open: n.Ties&music.LetRing != 0,
	}
	if n.Head == nil {
		head.Place, head.Hidden = engraving.Treble().PlaceAt(0), true // a note without pitch, of a broken file
	}
	if n.Unpitched && !n.Placed {
		head.Place = engraving.Treble().PlaceAt(lowestLine + max(m.lines[staff], 1) - 1)
		if m.lines[staff] == 0 {
			head.Place = engraving.Treble().PlaceAt(0)
		}
	}
	if n.Accidental != nil {
		head.Accidental = m.accidental(n.Accidental)
	}
	if n.Notehead != nil {
		readHead(n.Notehead, &head)
		name := musicxml.Text(n.Notehead)
		if !isKey(headShapes, name) {
			m.census.miss("notehead "+name+musicxml.Attr(n.Notehead, "smufl"), m.bar)
		}
	}
	m.heads(n, &head)
	return head
}

// heads reads what the notations of a note say of its head: the side of its tie,
// the string and fret.
func (m *measureReader) heads(n *music.Note, head *engraving.Note) {
	for i := range n.Marks {
		e := n.Marks[i].Element
		switch e.Tag {
		case "tied":
			if side := readSide(e); side != engraving.SideAuto && musicxml.Attr(e, "type") != "stop" {
				head.TieSide = side
			}
			head.TieLine = readLine(e)
		case "fret":
			head.Fret = firstRunes(musicxml.Text(e), 3)
		case "string":
			head.String, _ = strconv.Atoi(musicxml.Text(e))
			head.String = max(0, min(head.String, 20))
		}
	}
}

// firstRunes cuts a text that should be a short number.
func firstRunes(text string, n int) string {
	for i := range text {
		if n == 0 {
			return text[:i]
		}
		n--
	}
	return text
}

// clampOctave keeps a hostile octave within what can be drawn.
func clampOctave(octave int) int { return max(-2, min(octave, 12)) }

// lowestLine is the position of the lowest line of a staff.
const lowestLine = -4

// accidental reads a printed accidental; one that no sign is known for is listed.
func (m *measureReader) accidental(e *etree.Element) *engraving.Accidental {
	a := readAccidental(e)
	if !isSign(a.Sign) {
		m.census.miss("accidental "+a.Sign+musicxml.Attr(e, "smufl"), m.bar)
	}
	return a
}

func readAccidental(e *etree.Element) *engraving.Accidental {
	a := engraving.Accidental{Sign: musicxml.Text(e), Small: musicxml.Attr(e, "size") == "cue"}
	round, square := musicxml.Attr(e, "parentheses"), musicxml.Attr(e, "bracket")
	a.Brackets = square == "yes" || square == "" && musicxml.Attr(e, "editorial") == "yes" && round != "yes"
	a.Parentheses = !a.Brackets && (round == "yes" || round == "" && musicxml.Attr(e, "cautionary") == "yes")
	return &a
}

var headShapes = map[string]engraving.Head{
	"slash": engraving.HeadSlash, "triangle": engraving.HeadTriangle, "diamond": engraving.HeadDiamond, "square": engraving.HeadSquare, "rectangle": engraving.HeadSquare,
	"cross": engraving.HeadPlus, "x": engraving.HeadCross, "circle-x": engraving.HeadCircleCross, "inverted triangle": engraving.HeadInvertedTriangle,
	"left triangle": engraving.HeadLeftTriangle, "none": engraving.HeadNone, "circled": engraving.HeadCircleCross,
	"do": engraving.HeadTriangle, "re": engraving.HeadMoon, "mi": engraving.HeadDiamond, "fa": engraving.HeadLeftTriangle, "fa up": engraving.HeadLeftTriangle,
	"la": engraving.HeadSquare, "ti": engraving.HeadInvertedTriangle, "so": engraving.HeadNormal, "normal": engraving.HeadNormal, "cluster": engraving.HeadSquare,
	"slashed": engraving.HeadSlashed, "back slashed": engraving.HeadBackSlashed, "arrow up": engraving.HeadArrowUp, "arrow down": engraving.HeadArrowDown,
}

func readHead(e *etree.Element, n *engraving.Note) {
	n.Head = headShapes[musicxml.Text(e)]
	n.Filled = musicxml.Attr(e, "filled") == "yes"
	n.Unfilled = musicxml.Attr(e, "filled") == "no"
	n.Parentheses = musicxml.Attr(e, "parentheses") == "yes"
}

var beamNames = map[string]engraving.Beam{"begin": engraving.BeamBegin, "continue": engraving.BeamContinue, "end": engraving.BeamEnd,
	"forward hook": engraving.BeamHookRight, "backward hook": engraving.BeamHookLeft}

func (m *measureReader) readBeams(event *engraving.Event, n *music.Note) {
	for level, what := range n.Beams() {
		if level < 1 || level > 8 {
			continue
		}
		for len(event.Beams) < level {
			event.Beams = append(event.Beams, engraving.BeamNone)
		}
		event.Beams[level-1] = beamNames[what]
		if fan := musicxml.Attr(n.Beam, "fan"); level == 1 && what == "begin" && fan != "" && fan != "none" {
			m.census.miss("beam that opens or closes ("+fan+")", m.bar)
		}
		m.hasBeams = true
		if key := (beamKey{n.Voice, n.Grace}); level == 1 && !m.beamed[key] {
			m.beamed[key] = true
			if what == "continue" || what == "end" {
				m.census.miss("beam over a barline", m.bar)
			}
		}
	}
}

func isKey[V any](table map[string]V, name string) bool {
	_, known := table[name]
	return known
}

// isSign reports whether there is a sign of that name.
func isSign(name string) bool {
	_, ok := fonts.SignOf(name)
	return ok
}
