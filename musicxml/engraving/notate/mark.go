package notate

import (
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/fonts"
	"deskpart/musicxml/music"
)

// marksBeside reads what stands beside the notes of a measure: directions, chord
// symbols, figures, and what a barline shows.
func (m *measureReader) marksBeside() {
	for i := range m.source.Marks {
		mark := &m.source.Marks[i]
		if mark.Note != nil || mark.Hidden || musicxml.Attr(mark.Event.Element, "print-object") == "no" {
			continue
		}
		if !m.markBeside(mark) {
			m.census.missMark(mark)
		}
	}
}

// markBeside reads one mark and reports whether it is drawn, or nothing for the
// eye.
func (m *measureReader) markBeside(mark *music.Mark) bool {
	switch mark.Event.Kind {
	case musicxml.Harmony:
		m.harmony(mark)
		return true
	case musicxml.FiguredBass:
		m.figures(mark)
		return true
	case musicxml.Barline:
		return mark.Element.Tag != "wavy-line"
	case musicxml.Sound:
		return true
	}
	return m.direction(mark)
}

func (m *measureReader) mark(staff int, mark engraving.Mark) {
	if mark.Onset.Sign() < 0 {
		mark.Onset = musicxml.Fraction{}
	}
	if marks := m.measures[staff].Marks; !slices.ContainsFunc(marks, func(other engraving.Mark) bool { return repeats(&mark, &other) }) {
		m.measures[staff].Marks = append(marks, mark)
	}
}

// repeats reports whether a dynamic or words say again what stands there already: two
// players who share a staff have one each.
func repeats(m, other *engraving.Mark) bool {
	return (m.Kind == engraving.MarkDynamic || m.Kind == engraving.MarkWords) && m.Kind == other.Kind && m.Onset == other.Onset && m.Above() == other.Above() &&
		m.Text == other.Text && slices.Equal(m.Pieces, other.Pieces) && m.Enclosure == other.Enclosure
}

// direction reads a child of a <direction-type>.
func (m *measureReader) direction(mark *music.Mark) bool {
	e := mark.Element
	staff := m.staff(mark.Event.Staff)
	made := engraving.Mark{Onset: mark.Onset, Side: readSide(mark.Event.Element), Enclosure: readEnclosure(e)}
	switch e.Tag {
	case "words":
		m.words(staff, made, mark)
	case "rehearsal":
		made.Kind, made.Text = engraving.MarkRehearsal, musicxml.Text(e)
		m.mark(staff, made)
		return made.Text != ""
	case "segno", "coda":
		made.Kind = map[string]engraving.MarkKind{"segno": engraving.MarkSegno, "coda": engraving.MarkCoda}[e.Tag]
		made.Side = engraving.Above
		m.mark(staff, made)
	case "dynamics":
		made.Kind, made.Pieces = engraving.MarkDynamic, dynamicPieces(e)
		if len(made.Pieces) > 0 && !m.joinPrefix(staff, made) {
			m.mark(staff, made)
		}
	case "metronome":
		return m.metronome(e, staff, made)
	case "sound":
	case "wedge", "octave-shift", "dashes", "bracket", "pedal", "principal-voice": // with their spans
	default:
		return m.rareDirection(e, staff, made)
	}
	return true
}

// words joins a text to the one before it at the same moment.
func (m *measureReader) words(staff int, made engraving.Mark, mark *music.Mark) {
	text := strings.Join(strings.Fields(musicxml.RawText(mark.Element)), " ")
	if text == "" {
		return
	}
	made.Pieces = piecesOf(text)
	made.Kind, made.Letters = m.wordsKind(mark, made.Side), readLetters(mark.Element)
	if made.Kind == engraving.MarkTempo {
		made.Letters = nil
	}
	m.joinMark(staff, made)
}

// wordsKind tells tempo words from others: those of a direction that sets the
// tempo or has a metronome mark, and bold ones over the staff.
func (m *measureReader) wordsKind(mark *music.Mark, side engraving.Side) engraving.MarkKind {
	d := mark.Event.Element
	sound := musicxml.Child(d, "sound")
	tempo := sound != nil && musicxml.Attr(sound, "tempo") != "" || d.FindElement("direction-type/metronome") != nil
	if side != engraving.Below && (tempo || musicxml.Attr(mark.Element, "font-weight") == "bold") {
		return engraving.MarkTempo
	}
	return engraving.MarkWords
}

// readLetters is the face that words are said to have; nil where nothing is said.
func readLetters(e *etree.Element) *fonts.Face {
	style, weight := musicxml.Attr(e, "font-style"), musicxml.Attr(e, "font-weight")
	if style == "" && weight == "" {
		return nil
	}
	face := fonts.Italic
	switch {
	case weight == "bold" && style == "italic":
		face = fonts.BoldItalic
	case weight == "bold":
		face = fonts.Bold
	case style == "normal":
		face = fonts.Regular
	}
	return &face
}

// joinMark adds the pieces of a mark to those of one of its kind at the same
// moment and side, or else the mark itself.
func (m *measureReader) joinMark(staff int, mark engraving.Mark) {
	list := m.measures[staff].Marks
	for i := range list {
		last := &list[i]
		if last.Kind != mark.Kind || last.Onset != mark.Onset || last.Above() != mark.Above() || last.Enclosure != mark.Enclosure || len(last.Pieces) == 0 {
			continue
		}
		if needsSpace(last.Pieces[len(last.Pieces)-1], mark.Pieces[0]) {
			last.Pieces = append(last.Pieces, engraving.Piece{Text: " "})
		}
		last.Pieces = append(last.Pieces, mark.Pieces...)
		return
	}
	m.mark(staff, mark)
}

// prefixes are the words that stand before the dynamic they modify ("sempre f").
var prefixes = map[string]bool{"sempre": true, "subito": true, "sub.": true, "più": true, "piu": true, "meno": true, "poco": true,
	"un": true, "molto": true, "quasi": true, "mezzo": true, "ma": true, "sim.": true, "ancora": true, "immer": true}

// joinPrefix puts the words before a dynamic that modify it and it into one.
func (m *measureReader) joinPrefix(staff int, mark engraving.Mark) bool {
	list := m.measures[staff].Marks
	if len(list) == 0 {
		return false
	}
	last := &list[len(list)-1]
	if last.Kind != engraving.MarkWords || last.Onset != mark.Onset || last.Side == engraving.Above && mark.Side != engraving.Above || last.Diagram != nil || last.Enclosure != engraving.NotEnclosed {
		return false
	}
	for _, word := range strings.Fields(words(last)) {
		if !prefixes[strings.ToLower(word)] {
			return false
		}
	}
	mark.Pieces = append([]engraving.Piece{{Text: words(last) + " "}}, mark.Pieces...)
	*last = mark
	return true
}

// needsSpace tells whether a space belongs between two pieces.
func needsSpace(before, after engraving.Piece) bool {
	for _, end := range []string{"(", "[", " "} {
		if strings.HasSuffix(before.Text, end) {
			return false
		}
	}
	return !slices.ContainsFunc([]string{")", "]", ",", " "}, func(begin string) bool { return strings.HasPrefix(after.Text, begin) })
}

// words are the letters of a mark.
func words(m *engraving.Mark) string {
	text := m.Text
	for _, p := range m.Pieces {
		text += p.Text + p.Dynamic
	}
	return text
}

// metronome reads a metronome mark: a note and a number, two notes that are alike,
// or a metric modulation in notes.
func (m *measureReader) metronome(e *etree.Element, staff int, mark engraving.Mark) bool {
	mark.Kind, mark.Side = engraving.MarkTempo, engraving.Above
	if mark.Pieces = metronomePieces(e); mark.Pieces == nil {
		return false
	}
	for _, element := range []string{"metronome-arrows", "metronome-note/metronome-tied"} {
		if e.FindElement(element) != nil {
			m.census.miss(element[strings.Index(element, "/")+1:], m.bar)
		}
	}
	if musicxml.Attr(e, "parentheses") == "yes" {
		mark.Pieces = append(append([]engraving.Piece{{Text: "("}}, mark.Pieces...), engraving.Piece{Text: ")"})
	}
	m.joinMark(staff, mark)
	return true
}

func metronomePieces(e *etree.Element) []engraving.Piece {
	var pieces []engraving.Piece
	equals := func() {
		if len(pieces) > 0 {
			pieces = append(pieces, engraving.Piece{Text: " = "})
		}
	}
	for _, child := range e.ChildElements() {
		switch child.Tag {
		case "beat-unit":
			value, known := engraving.ParseValue(musicxml.Text(child))
			if !known {
				return nil
			}
			equals()
			pieces = append(pieces, engraving.Piece{Note: &engraving.PieceNote{Value: value}})
		case "beat-unit-dot", "metronome-dot":
			if n := len(pieces); n > 0 && pieces[n-1].Note != nil {
				pieces[n-1].Note.Dots++
			}
		case "per-minute":
			text := musicxml.Text(child)
			if len(pieces) > 0 {
				text = " = " + text
			}
			pieces = append(pieces, engraving.Piece{Text: text})
		case "metronome-relation":
			pieces = append(pieces, engraving.Piece{Text: " = "})
		case "metronome-note":
			pieces = append(pieces, metronomeNote(child)...)
		}
	}
	return pieces
}

// metronomeNote is a note of a metric modulation, with the figure of its tuplet.
func metronomeNote(e *etree.Element) []engraving.Piece {
	value, known := engraving.ParseValue(musicxml.ChildText(e, "metronome-type"))
	if !known {
		return nil
	}
	pieces := []engraving.Piece{{Note: &engraving.PieceNote{Value: value, Dots: len(musicxml.Children(e, "metronome-dot"))}}}
	if t := musicxml.Child(e, "metronome-tuplet"); t != nil && musicxml.Attr(t, "type") == "stop" {
		pieces = append(pieces, engraving.Piece{Text: "(" + musicxml.ChildText(t, "actual-notes") + ")"})
	}
	return pieces
}

var enclosures = map[string]engraving.Enclosure{"rectangle": engraving.Rectangle, "square": engraving.Rectangle, "oval": engraving.Oval, "circle": engraving.Oval, "bracket": engraving.OpenBelow,
	"inverted-bracket": engraving.OpenAbove, "triangle": engraving.Triangle, "diamond": engraving.Diamond, "pentagon": engraving.Oval, "hexagon": engraving.Oval, "heptagon": engraving.Oval,
	"octagon": engraving.Oval, "nonagon": engraving.Oval, "decagon": engraving.Oval}

func readEnclosure(e *etree.Element) engraving.Enclosure {
	return enclosures[musicxml.Attr(e, "enclosure")]
}

// rareDirection reads signs and diagrams that stand by themselves.
func (m *measureReader) rareDirection(e *etree.Element, staff int, mark engraving.Mark) bool {
	mark.Pieces, mark.Diagram = rarePieces(e), readDiagram(e)
	if mark.Pieces == nil && mark.Diagram == nil {
		return false
	}
	if e.Tag == "percussion" && mark.Enclosure == engraving.NotEnclosed {
		mark.Enclosure = engraving.Rectangle
	}
	upright := fonts.Regular
	mark.Letters = &upright
	m.mark(staff, mark)
	return true
}

// rarePieces are the sign or the words of a direction; nil where none is known.
func rarePieces(e *etree.Element) []engraving.Piece {
	switch e.Tag {
	case "damp", "damp-all", "eyeglasses":
		return []engraving.Piece{{Sign: e.Tag}}
	case "string-mute":
		return []engraving.Piece{{Sign: map[string]string{"on": "string-mute-on", "off": "string-mute-off"}[musicxml.Attr(e, "type")]}}
	case "staff-divide":
		return []engraving.Piece{{Sign: map[string]string{"down": "divide-down", "up": "divide-up", "up-down": "divide-both"}[musicxml.Attr(e, "type")]}}
	case "symbol":
		if sign := symbolSigns[musicxml.Text(e)]; sign != "" {
			return []engraving.Piece{{Sign: sign}}
		}
	case "percussion":
		return percussionPieces(e)
	case "scordatura":
		return scordatura(e)
	case "other-direction":
		if text := musicxml.Text(e); text != "" {
			return []engraving.Piece{{Text: text}}
		}
	}
	return nil
}

// symbolSigns are the signs of which the standard's list of glyph names has a word
// (SMuFL canonical names, as the standard asks for in <symbol>; from memory).
var symbolSigns = map[string]string{"segno": "segno", "coda": "coda", "stringsDownBow": "down-bow", "stringsUpBow": "up-bow",
	"stringsHarmonic": "harmonic", "breathMarkComma": "breath", "breathMarkTick": "breath-tick", "caesura": "caesura",
	"ornamentTrill": "trill", "ornamentTurn": "turn", "ornamentMordent": "mordent", "fermataAbove": "fermata-above", "fermataBelow": "fermata-below",
	"accidentalFlat": "flat", "accidentalSharp": "sharp", "accidentalNatural": "natural", "keyboardPedalPed": "pedal", "keyboardPedalUp": "pedal-end",
	"noteheadBlack": "head-black", "pluckedDamp": "damp", "pluckedDampAll": "damp-all", "miscEyeglasses": "eyeglasses"}

// percussionPieces name the instrument or stick of a percussion pictogram in words,
// which players of every school read.
func percussionPieces(e *etree.Element) []engraving.Piece {
	for _, child := range e.ChildElements() {
		text := musicxml.Text(child)
		switch child.Tag {
		case "timpani":
			text = "timpani"
		case "stick":
			text = strings.TrimSpace(musicxml.ChildText(child, "stick-material") + " " + musicxml.ChildText(child, "stick-type"))
		}
		if text != "" {
			return []engraving.Piece{{Text: text}}
		}
	}
	return nil
}

// scordatura says the strings that are tuned otherwise.
func scordatura(e *etree.Element) []engraving.Piece {
	var words []string
	for _, accord := range musicxml.Children(e, "accord") {
		words = append(words, musicxml.Attr(accord, "string")+" = "+musicxml.ChildText(accord, "tuning-step")+alterText(accord, "tuning-alter"))
	}
	if len(words) == 0 {
		return nil
	}
	return []engraving.Piece{{Text: "scordatura: " + strings.Join(words, ", ")}}
}
