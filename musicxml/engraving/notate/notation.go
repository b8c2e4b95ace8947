package notate

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/music"
)

// notations reads what stands at a note: slurs, tuplets, articulations.
func (m *measureReader) notations(n *music.Note, staff int, event *engraving.Event) {
	for i := range n.Marks {
		mark := &n.Marks[i]
		if mark.Hidden || mark.Element.Tag == "lyric" {
			continue
		}
		if !m.notation(mark, staff, event) {
			m.census.missMark(mark)
		}
	}
}

// notation reads one notation and reports whether it is drawn.
func (m *measureReader) notation(mark *music.Mark, staff int, event *engraving.Event) bool {
	e := mark.Element
	switch mark.Group() {
	case "articulations", "technical":
		return m.playing(mark, event)
	case "ornaments":
		return m.ornament(mark, event)
	}
	switch e.Tag {
	case "tied":
		// of the head
	case "slur":
		m.curve(mark, &event.Slurs)
	case "glissando", "slide":
		m.curve(mark, &event.Slides)
	case "tuplet":
		if m.hasEnds(mark) {
			event.Tuplets = append(event.Tuplets, m.tuplet(mark, event))
		}
	case "fermata":
		if shape := musicxml.Text(e); shape != "" && shape != "normal" && fermataSigns[shape] == "" {
			m.census.miss("shape of a fermata: "+shape, mark.Measure)
		}
		add(event, engraving.Articulation{Sign: cmp.Or(fermataSigns[musicxml.Text(e)], "fermata"), Side: fermataSide(e)})
	case "arpeggiate", "non-arpeggiate":
		arpeggiate(event, e)
	case "dynamics":
		m.mark(staff, engraving.Mark{Onset: mark.Onset, Kind: engraving.MarkDynamic, Pieces: dynamicPieces(e), Side: readSide(e), Enclosure: readEnclosure(e)})
	case "accidental-mark":
		add(event, engraving.Articulation{Sign: musicxml.Text(e), Side: readSide(e)})
		return isSign(musicxml.Text(e))
	case "other-notation":
		return addOther(event, e, readSide(e))
	default:
		return false
	}
	return true
}

// isWhole reports whether the part has both ends of what a mark belongs to.
func isWhole(s *music.Span) bool { return s != nil && s.Start != nil && s.Stop != nil }

// hasEnds is isWhole, and lists what has one end alone: it is not drawn.
func (m *measureReader) hasEnds(mark *music.Mark) bool {
	if !isWhole(mark.Span) {
		m.census.miss(mark.Element.Tag+" with one end", mark.Measure)
	}
	return isWhole(mark.Span)
}

// curve reads the end of a slur or of a line from note to note.
func (m *measureReader) curve(mark *music.Mark, ends *[]engraving.SlurEnd) {
	if mark.Role != music.Starts && mark.Role != music.Stops || !m.hasEnds(mark) {
		return // "continue" is in between
	}
	end := engraving.SlurEnd{ID: m.ids[mark.Span], Start: mark.Role == music.Starts, Side: readSide(mark.Element), Line: readLine(mark.Element)}
	if mark.Element.Tag == "glissando" && end.Start && musicxml.Attr(mark.Element, "line-type") == "" {
		end.Line = engraving.Wavy // MusicXML 4.0, glissando: wavy by default
	}
	if end.Start {
		end.Text = musicxml.Text(mark.Element)
	}
	*ends = append(*ends, end)
}

// add adds a sign once.
func add(e *engraving.Event, a engraving.Articulation) {
	if !slices.ContainsFunc(e.Articulations, func(other engraving.Articulation) bool { return other.Sign == a.Sign && other.Text == a.Text }) {
		e.Articulations = append(e.Articulations, a)
	}
}

// addText adds letters at the note, if there are any.
func addText(e *engraving.Event, text string, side engraving.Side) bool {
	if text == "" {
		return false
	}
	add(e, engraving.Articulation{Text: text, Side: side})
	return true
}

// fermataSigns are the shapes of fermatas that there are signs for; others are drawn as the
// usual one.
var fermataSigns = map[string]string{"angled": "fermata-angled", "square": "fermata-square"}

func fermataSide(e *etree.Element) engraving.Side {
	if musicxml.Attr(e, "type") == "inverted" {
		return engraving.Below
	}
	return readSide(e)
}

// arpeggiate reads the line before a chord.
func arpeggiate(e *engraving.Event, x *etree.Element) {
	e.Arpeggio = engraving.PlainArpeggio
	switch {
	case x.Tag == "non-arpeggiate":
		e.Arpeggio = engraving.ArpeggioBracket
	case musicxml.Attr(x, "direction") == "up":
		e.Arpeggio = engraving.ArpeggioUp
	case musicxml.Attr(x, "direction") == "down":
		e.Arpeggio = engraving.ArpeggioDown
	}
	if n, err := strconv.Atoi(musicxml.Attr(x, "number")); err == nil {
		e.ArpeggioID = n
	}
}

// readSide reads placement, or orientation for slurs and ties.
func readSide(e *etree.Element) engraving.Side {
	switch {
	case musicxml.Attr(e, "placement") == "above" || musicxml.Attr(e, "orientation") == "over":
		return engraving.Above
	case musicxml.Attr(e, "placement") == "below" || musicxml.Attr(e, "orientation") == "under":
		return engraving.Below
	}
	return engraving.SideAuto
}

// readLine reads the look of a stroke.
func readLine(e *etree.Element) engraving.LineType {
	return map[string]engraving.LineType{"dashed": engraving.Dashed, "dotted": engraving.Dotted, "wavy": engraving.Wavy}[musicxml.Attr(e, "line-type")]
}

// tuplet reads the end of a tuplet. The number that pairs it is the span's own.
func (m *measureReader) tuplet(mark *music.Mark, event *engraving.Event) engraving.TupletEnd {
	e := mark.Element
	t := engraving.TupletEnd{ID: m.ids[mark.Span], Start: mark.Role == music.Starts, Side: readSide(e)}
	t.Bracket = musicxml.Attr(e, "bracket") == "yes"
	t.NoBracket = musicxml.Attr(e, "bracket") == "no"
	if show := musicxml.Attr(e, "show-type"); t.Start && (show == "actual" || show == "both") {
		m.census.miss("note value in the figure of a tuplet", m.bar)
	}
	actual := cmp.Or(tupletNumber(e, "tuplet-actual"), event.Ratio.Actual)
	normal := cmp.Or(tupletNumber(e, "tuplet-normal"), event.Ratio.Normal)
	switch musicxml.Attr(e, "show-number") {
	case "none":
	case "both":
		t.Text = strconv.Itoa(actual) + ":" + strconv.Itoa(normal)
	default:
		if actual > 0 {
			t.Text = strconv.Itoa(actual)
		}
	}
	return t
}

// tupletNumber is a number that a tuplet says itself, 0 for none.
func tupletNumber(e *etree.Element, tag string) int {
	return max(elementNumber(musicxml.Child(e, tag), "tuplet-number"), 0)
}

// ornament reads trills and the like with their accidentals, tremolos and wavy
// lines.
func (m *measureReader) ornament(mark *music.Mark, event *engraving.Event) bool {
	e := mark.Element
	switch e.Tag {
	case "tremolo":
		readTremolo(event, e)
		return true
	case "wavy-line":
		return isWhole(mark.Span)
	case "accidental-mark":
		return addAuxiliary(event, e)
	case "other-ornament":
		return addOther(event, e, readSide(e))
	}
	return m.playing(mark, event)
}

func readTremolo(e *engraving.Event, x *etree.Element) {
	n, _ := strconv.Atoi(musicxml.Text(x))
	switch musicxml.Attr(x, "type") {
	case "", "single":
		e.Tremolo = max(0, min(n, 8))
	case "start":
		e.TremoloTo = max(0, min(n, 8))
	case "unmeasured":
		e.Tremolo = engraving.BuzzRoll
	}
}

// addAuxiliary puts an accidental over or under the ornament before it.
func addAuxiliary(event *engraving.Event, e *etree.Element) bool {
	n := len(event.Articulations)
	if n == 0 {
		add(event, engraving.Articulation{Sign: musicxml.Text(e), Side: readSide(e)})
	} else if readSide(e) == engraving.Below {
		event.Articulations[n-1].Under = readAccidental(e)
	} else {
		event.Articulations[n-1].Over = readAccidental(e)
	}
	return isSign(musicxml.Text(e))
}

// dynamicPieces are the letters of a <dynamics> element, and what else it says, as
// it stands: its own space between a sign and words, none between two signs.
func dynamicPieces(e *etree.Element) []engraving.Piece {
	var pieces []engraving.Piece
	for _, child := range e.ChildElements() {
		last := len(pieces) - 1
		switch {
		case child.Tag != "other-dynamics" && last >= 0 && pieces[last].Dynamic != "":
			pieces[last].Dynamic += child.Tag
		case child.Tag != "other-dynamics":
			pieces = append(pieces, engraving.Piece{Dynamic: child.Tag})
		default:
			pieces = append(pieces, otherDynamic(musicxml.RawText(child), last >= 0)...)
		}
	}
	return pieces
}

// otherDynamic cuts words with letters of dynamics among them ("più f", "fpp") into
// pieces: those letters are drawn as signs, the others as they stand.
func otherDynamic(text string, follows bool) []engraving.Piece {
	var pieces []engraving.Piece
	for i, word := range strings.Fields(text) {
		space := ""
		if i > 0 || follows {
			space = " "
		}
		if strings.Trim(word, "pmfrsz") == "" {
			if space != "" {
				pieces = append(pieces, engraving.Piece{Text: space})
			}
			pieces = append(pieces, engraving.Piece{Dynamic: word})
			continue
		}
		pieces = append(pieces, engraving.Piece{Text: space + word})
	}
	return pieces
}
