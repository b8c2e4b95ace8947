package engraving

import (
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// notations reads what stands at a note: slurs, tuplets, articulations.
func (m *measureReader) notations(e *musicxml.Event, staff int, event *Event) {
	for _, notations := range musicxml.Children(e.Element, "notations") {
		if musicxml.Attr(notations, "print-object") == "no" {
			continue
		}
		for _, child := range notations.ChildElements() {
			m.notation(child, e, staff, event)
		}
	}
}

func (m *measureReader) notation(child *etree.Element, e *musicxml.Event, staff int, event *Event) {
	side := readSide(child)
	switch child.Tag {
	case "slur":
		if kind := musicxml.Attr(child, "type"); kind == "start" || kind == "stop" {
			event.Slurs = append(event.Slurs, SlurEnd{ID: identity(child), Start: kind == "start", Side: side})
		}
	case "glissando", "slide":
		if kind := musicxml.Attr(child, "type"); kind == "start" || kind == "stop" {
			event.Slides = append(event.Slides, SlurEnd{ID: identity(child), Start: kind == "start"})
		}
	case "tuplet":
		event.Tuplets = append(event.Tuplets, readTuplet(child, event))
	case "fermata":
		if musicxml.Attr(child, "type") == "inverted" {
			side = Below
		}
		event.add("fermata", side)
	case "arpeggiate":
		event.Arpeggio = true
	case "dynamics":
		m.mark(staff, Mark{Onset: e.Onset, Kind: MarkDynamic, Pieces: dynamicPieces(child), Side: side})
	case "accidental-mark":
		event.add(musicxml.Text(child), side)
	case "articulations", "technical":
		for _, sign := range child.ChildElements() {
			addSign(event, sign)
		}
	case "ornaments":
		m.ornaments(child, e, staff, event)
	}
}

// add adds a sign once.
func (e *Event) add(sign string, side Side) {
	for _, a := range e.Articulations {
		if a.Sign == sign {
			return
		}
	}
	e.Articulations = append(e.Articulations, Articulation{Sign: sign, Side: side})
}

// identity is the number by which the ends of a slur or tuplet find each other.
func identity(e *etree.Element) int {
	n, err := strconv.Atoi(musicxml.Attr(e, "number"))
	if err != nil {
		return 1
	}
	return n
}

// readSide reads placement, or orientation for slurs and ties.
func readSide(e *etree.Element) Side {
	switch {
	case musicxml.Attr(e, "placement") == "above" || musicxml.Attr(e, "orientation") == "over":
		return Above
	case musicxml.Attr(e, "placement") == "below" || musicxml.Attr(e, "orientation") == "under":
		return Below
	}
	return SideAuto
}

func readTuplet(e *etree.Element, event *Event) TupletEnd {
	t := TupletEnd{ID: identity(e), Start: musicxml.Attr(e, "type") == "start", Side: readSide(e)}
	t.Bracket = musicxml.Attr(e, "bracket") == "yes"
	t.NoBracket = musicxml.Attr(e, "bracket") == "no"
	actual, normal := event.Ratio.Actual, event.Ratio.Normal
	if n := tupletNumber(e, "tuplet-actual"); n > 0 {
		actual = n
	}
	if n := tupletNumber(e, "tuplet-normal"); n > 0 {
		normal = n
	}
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

func tupletNumber(e *etree.Element, tag string) int {
	if portion := musicxml.Child(e, tag); portion != nil {
		return elementNumber(portion, "tuplet-number")
	}
	return 0
}

// signNames turns the standard's articulations and playing signs into glyphs.
var signNames = map[string][]string{
	"accent": {"accent"}, "strong-accent": {"marcato"}, "staccato": {"staccato"}, "tenuto": {"tenuto"},
	"detached-legato": {"staccato", "tenuto"}, "staccatissimo": {"staccatissimo"}, "spiccato": {"staccatissimo"},
	"breath-mark": {"breath"}, "caesura": {"caesura"}, "soft-accent": {"accent"},
	"up-bow": {"up-bow"}, "down-bow": {"down-bow"}, "harmonic": {"harmonic"}, "open-string": {"harmonic"},
	"open": {"harmonic"}, "stopped": {"stopped"}, "snap-pizzicato": {"snap-pizzicato"},
	"trill-mark": {"trill"}, "turn": {"turn"}, "delayed-turn": {"turn"}, "inverted-turn": {"inverted-turn"},
	"delayed-inverted-turn": {"inverted-turn"}, "vertical-turn": {"slashed-turn"}, "inverted-vertical-turn": {"slashed-turn"},
	"mordent": {"mordent"}, "inverted-mordent": {"inverted-mordent"}, "shake": {"inverted-mordent"},
}

func addSign(event *Event, sign *etree.Element) {
	side := readSide(sign)
	for _, name := range signNames[sign.Tag] {
		event.add(name, side)
	}
	if sign.Tag == "fingering" || sign.Tag == "pluck" {
		if text := musicxml.Text(sign); text != "" {
			event.add("text:"+text, side)
		}
	}
}

// ornaments reads trills and the like with their accidentals, tremolos and wavy
// lines.
func (m *measureReader) ornaments(e *etree.Element, at *musicxml.Event, staff int, event *Event) {
	for _, child := range e.ChildElements() {
		switch child.Tag {
		case "tremolo":
			n, _ := strconv.Atoi(musicxml.Text(child))
			switch musicxml.Attr(child, "type") {
			case "", "single":
				event.Tremolo = max(0, min(n, 8))
			case "start":
				event.TremoloTo = max(0, min(n, 8))
			}
		case "wavy-line":
			m.wavyLine(child, at, staff)
		case "accidental-mark":
			addAuxiliary(event, child)
		default:
			addSign(event, child)
		}
	}
}

// addAuxiliary puts an accidental over or under the ornament before it.
func addAuxiliary(event *Event, e *etree.Element) {
	n := len(event.Articulations)
	if n == 0 {
		event.add(musicxml.Text(e), readSide(e))
		return
	}
	if readSide(e) == Below {
		event.Articulations[n-1].Under = readAccidental(e)
	} else {
		event.Articulations[n-1].Over = readAccidental(e)
	}
}

func (m *measureReader) wavyLine(e *etree.Element, at *musicxml.Event, staff int) {
	key := spanKey{staff, "wavy-line", identity(e)}
	switch musicxml.Attr(e, "type") {
	case "start":
		m.openSpan(key, Spanner{Kind: TrillLine, From: Moment{m.bar, at.Onset}, Side: readSide(e)})
	case "stop":
		m.closeSpan(key, Moment{m.bar, at.Onset.Add(at.Duration)})
	}
}

// dynamicPieces are the letters of a <dynamics> element, and what else it says, as
// it stands: its own space between a sign and words, none between two signs.
func dynamicPieces(e *etree.Element) []Piece {
	var pieces []Piece
	for _, child := range e.ChildElements() {
		last := len(pieces) - 1
		switch {
		case child.Tag != "other-dynamics" && last >= 0 && pieces[last].Dynamic != "":
			pieces[last].Dynamic += child.Tag
		case child.Tag != "other-dynamics":
			pieces = append(pieces, Piece{Dynamic: child.Tag})
		default:
			pieces = append(pieces, otherDynamic(musicxml.RawText(child), last >= 0)...)
		}
	}
	return pieces
}

// otherDynamic cuts words with letters of dynamics among them ("più f", "fpp") into
// pieces: those letters are drawn as signs, the others as they stand.
func otherDynamic(text string, follows bool) []Piece {
	var pieces []Piece
	for i, word := range strings.Fields(text) {
		space := ""
		if i > 0 || follows {
			space = " "
		}
		if strings.Trim(word, "pmfrsz") == "" {
			if space != "" {
				pieces = append(pieces, Piece{Text: space})
			}
			pieces = append(pieces, Piece{Dynamic: word})
			continue
		}
		pieces = append(pieces, Piece{Text: space + word})
	}
	return pieces
}
