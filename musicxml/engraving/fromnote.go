package engraving

import (
	"math"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// note reads a <note>: an event of its own, or one more note of a chord.
func (m *measureReader) note(e *musicxml.Event) {
	staff := m.staff(e.Staff)
	v := m.voice(staff, e.Voice)
	if n := len(v.Events); e.Chord && n > 0 && v.Events[n-1].Onset == e.Onset && v.Events[n-1].Grace == e.Grace {
		last := &v.Events[n-1]
		last.Notes = append(last.Notes, m.readNote(e, staff))
		m.notations(e, staff, last)
		last.Hidden = last.Hidden && musicxml.Attr(e.Element, "print-object") == "no"
		return
	}
	event := Event{
		Onset: e.Onset, Duration: e.Duration, Grace: e.Grace,
		Small:  e.Cue || typeSize(e.Element) == "cue",
		Hidden: musicxml.Attr(e.Element, "print-object") == "no",
		Stem:   readStem(e.Element),
	}
	if grace := musicxml.Child(e.Element, "grace"); grace != nil {
		event.Slash = musicxml.Attr(grace, "slash") == "yes"
	}
	event.Ratio = readRatio(e.Element)
	m.readValue(&event, e)
	if e.Rest {
		event.RestPosition = readPlace(musicxml.Child(e.Element, "rest"))
	} else {
		event.Notes = []Note{m.readNote(e, staff)}
	}
	m.readBeams(&event, e.Element)
	m.readLyrics(&event, e.Element)
	m.notations(e, staff, &event)
	v.Events = append(v.Events, event)
}

// readValue reads the printed value; where there is none, it is found from the
// duration.
func (m *measureReader) readValue(event *Event, e *musicxml.Event) {
	name := musicxml.ChildText(e.Element, "type")
	value, known := ParseValue(name)
	event.Value, event.Dots = value, min(len(musicxml.Children(e.Element, "dot")), 4)
	if !event.Duration.Valid() {
		event.Duration = musicxml.Fraction{}
	}
	if e.Rest {
		whole := e.Onset.Sign() == 0 && e.Duration == m.source.Length && (!known || value == Whole)
		event.FullBar = whole || musicxml.Attr(musicxml.Child(e.Element, "rest"), "measure") == "yes"
	}
	if !known && !e.Grace {
		event.Value, event.Dots = valueOf(e.Duration, event.Ratio)
	}
	if !known && e.Grace {
		event.Value = Eighth
	}
}

// valueOf finds the value and dots nearest to a duration, from above.
func valueOf(duration musicxml.Fraction, ratio Ratio) (Value, int) {
	for v := Long; v <= Value256; v++ {
		for dots := range 3 {
			if Length(v, dots, ratio) == duration {
				return v, dots
			}
		}
	}
	if duration.Sign() <= 0 {
		return Quarter, 0
	}
	v := Value(math.Ceil(-math.Log2(duration.Float()/4) - 1e-9))
	return max(Long, min(v, Value256)), 0
}

// readNote reads one head.
func (m *measureReader) readNote(e *musicxml.Event, staff int) Note {
	n := Note{Hidden: musicxml.Attr(e.Element, "print-object") == "no"}
	for _, child := range e.Element.ChildElements() {
		switch child.Tag {
		case "pitch":
			n.Place = Place{stepOf(musicxml.ChildText(child, "step")), clampOctave(elementNumber(child, "octave"))}
			n.Alter, _ = strconv.ParseFloat(musicxml.ChildText(child, "alter"), 64)
		case "unpitched":
			n.Unpitched = true
			n.Place = Treble().placeAt(bottomLine + max(m.lines[staff], 1) - 1)
			if m.lines[staff] == 0 {
				n.Place = Treble().placeAt(0)
			}
			if at := readPlace(child); at != nil {
				n.Place = *at
			}
		case "accidental":
			n.Accidental = readAccidental(child)
		case "notehead":
			readHead(child, &n)
		case "tie":
			setTie(&n, musicxml.Attr(child, "type"))
		}
	}
	for _, notations := range musicxml.Children(e.Element, "notations") {
		for _, tied := range musicxml.Children(notations, "tied") {
			setTie(&n, musicxml.Attr(tied, "type"))
			if side := readSide(tied); side != SideAuto && musicxml.Attr(tied, "type") == "start" {
				n.TieSide = side
			}
		}
		if technical := musicxml.Child(notations, "technical"); technical != nil {
			n.Fret, n.String = firstRunes(musicxml.ChildText(technical, "fret"), 3), max(0, min(elementNumber(technical, "string"), 20))
		}
	}
	return n
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

func setTie(n *Note, kind string) {
	switch kind {
	case "start":
		n.TieTo = true
	case "stop":
		n.TieFrom = true
	case "continue":
		n.TieTo, n.TieFrom = true, true
	case "let-ring":
		n.Open = true
	}
}

// placeAt is the note of a position in the clef.
func (c Clef) placeAt(position int) Place {
	steps := position + c.middle()
	return Place{Step: ((steps % 7) + 7) % 7, Octave: (steps - ((steps%7)+7)%7) / 7}
}

// readPlace reads display-step and display-octave; nil where they are absent.
func readPlace(e *etree.Element) *Place {
	if e == nil || musicxml.Child(e, "display-step") == nil {
		return nil
	}
	return &Place{stepOf(musicxml.ChildText(e, "display-step")), clampOctave(elementNumber(e, "display-octave"))}
}

func readAccidental(e *etree.Element) *Accidental {
	a := Accidental{Sign: musicxml.Text(e), Small: musicxml.Attr(e, "size") == "cue"}
	round, square := musicxml.Attr(e, "parentheses"), musicxml.Attr(e, "bracket")
	a.Brackets = square == "yes" || square == "" && musicxml.Attr(e, "editorial") == "yes" && round != "yes"
	a.Parentheses = !a.Brackets && (round == "yes" || round == "" && musicxml.Attr(e, "cautionary") == "yes")
	return &a
}

var headShapes = map[string]Head{
	"slash": HeadSlash, "triangle": HeadTriangle, "diamond": HeadDiamond, "square": HeadSquare, "rectangle": HeadSquare,
	"cross": HeadPlus, "x": HeadCross, "circle-x": HeadCircleCross, "inverted triangle": HeadInvertedTriangle,
	"left triangle": HeadLeftTriangle, "none": HeadNone, "circled": HeadCircleCross,
	"do": HeadTriangle, "re": HeadMoon, "mi": HeadDiamond, "fa": HeadLeftTriangle, "fa up": HeadLeftTriangle,
	"la": HeadSquare, "ti": HeadInvertedTriangle,
}

func readHead(e *etree.Element, n *Note) {
	n.Head = headShapes[musicxml.Text(e)]
	n.Filled = musicxml.Attr(e, "filled") == "yes"
	n.Unfilled = musicxml.Attr(e, "filled") == "no"
	n.Parentheses = musicxml.Attr(e, "parentheses") == "yes"
}

func readStem(e *etree.Element) Stem {
	return map[string]Stem{"up": StemUp, "down": StemDown, "none": StemNone}[musicxml.ChildText(e, "stem")]
}

func typeSize(e *etree.Element) string {
	if t := musicxml.Child(e, "type"); t != nil {
		return musicxml.Attr(t, "size")
	}
	return ""
}

func readRatio(e *etree.Element) Ratio {
	t := musicxml.Child(e, "time-modification")
	if t == nil {
		return Ratio{}
	}
	return Ratio{elementNumber(t, "actual-notes"), elementNumber(t, "normal-notes")}
}

var beamNames = map[string]Beam{"begin": BeamBegin, "continue": BeamContinue, "end": BeamEnd,
	"forward hook": BeamHookRight, "backward hook": BeamHookLeft}

func (m *measureReader) readBeams(event *Event, e *etree.Element) {
	for _, b := range musicxml.Children(e, "beam") {
		level, err := strconv.Atoi(musicxml.Attr(b, "number"))
		if err != nil {
			level = 1
		}
		if level < 1 || level > 8 {
			continue
		}
		for len(event.Beams) < level {
			event.Beams = append(event.Beams, BeamNone)
		}
		event.Beams[level-1] = beamNames[musicxml.Text(b)]
		m.hasBeams = true
	}
}

// readLyrics reads the syllables; verses are numbered in the order they appear.
func (m *measureReader) readLyrics(event *Event, e *etree.Element) {
	for _, l := range musicxml.Children(e, "lyric") {
		if musicxml.Attr(l, "print-object") == "no" {
			continue
		}
		key := musicxml.Attr(l, "number") + "/" + musicxml.Attr(l, "name")
		for hasVerse(event.Lyrics, m.verses[key]) {
			key += "'" // a second text of that number at one note
		}
		if m.verses[key] == 0 {
			m.verses[key] = len(m.verses) + 1
		}
		lyric := Lyric{Verse: m.verses[key]}
		for _, child := range l.ChildElements() {
			switch child.Tag {
			case "syllabic":
				kind := musicxml.Text(child)
				lyric.Hyphen = kind == "begin" || kind == "middle"
			case "text":
				lyric.Text += musicxml.Text(child)
			case "elision":
				lyric.Text += "‿"
			case "extend":
				kind := musicxml.Attr(child, "type")
				lyric.Extend = kind == "" || kind == "start"
			}
		}
		if lyric.Text != "" {
			event.Lyrics = append(event.Lyrics, lyric)
		}
	}
}
