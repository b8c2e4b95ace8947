package musicxml

import (
	"iter"
	"slices"
	"strings"

	"github.com/beevik/etree"
)

// Child returns the first child element with that name and no namespace
// prefix, or nil; nil has none.
func Child(e *etree.Element, tag string) *etree.Element {
	if e == nil {
		return nil
	}
	for _, token := range e.Child {
		if c, ok := token.(*etree.Element); ok && c.Tag == tag && c.Space == "" {
			return c
		}
	}
	return nil
}

// Children returns all child elements with that name and no namespace prefix; nil has none.
func Children(e *etree.Element, tag string) []*etree.Element {
	if e == nil {
		return nil
	}
	var found []*etree.Element
	for _, token := range e.Child {
		if c, ok := token.(*etree.Element); ok && c.Tag == tag && c.Space == "" {
			found = append(found, c)
		}
	}
	return found
}

// Each goes through the child elements with that name and no namespace prefix.
// They must stay where they are meanwhile; Children is a list of its own. Nil has none.
func Each(e *etree.Element, tag string) iter.Seq[*etree.Element] {
	return func(yield func(*etree.Element) bool) {
		if e == nil {
			return
		}
		for _, token := range e.Child {
			if c, ok := token.(*etree.Element); ok && c.Tag == tag && c.Space == "" && !yield(c) {
				return
			}
		}
	}
}

// Descend follows a path of first children, or returns nil where one is missing.
func Descend(e *etree.Element, tags ...string) *etree.Element {
	for _, tag := range tags {
		e = Child(e, tag)
	}
	return e
}

// Along lists what stands at the end of a path of children: all <words> of a direction by
// "direction-type", "words".
func Along(e *etree.Element, tags ...string) []*etree.Element {
	found := []*etree.Element{e}
	for _, tag := range tags {
		var next []*etree.Element
		for _, parent := range found {
			next = append(next, Children(parent, tag)...)
		}
		found = next
	}
	return found
}

// Text returns the element's own text, trimmed; "" for nil.
func Text(e *etree.Element) string {
	text := RawText(e)
	if n := len(text); n > 0 && isPlainSign(text[0]) && isPlainSign(text[n-1]) { // as most are
		return text
	}
	return strings.TrimSpace(text)
}

// isPlainSign reports whether a byte is a sign of ASCII that is no white space.
func isPlainSign(c byte) bool { return c > ' ' && c < 0x7f }

// RawText returns the element's own text with the spaces at its ends, which divide
// words in some elements; "" for nil. What comments and processing instructions cut
// apart is one text.
func RawText(e *etree.Element) string {
	if e == nil {
		return ""
	}
	if len(e.Child) == 1 {
		if data, ok := e.Child[0].(*etree.CharData); ok {
			return data.Data
		}
	}
	var text strings.Builder
	for _, token := range e.Child {
		if data, ok := token.(*etree.CharData); ok {
			text.WriteString(data.Data)
		}
	}
	return text.String()
}

// ChildText returns the trimmed text of the first child of that name, "" where
// it is absent.
func ChildText(e *etree.Element, tag string) string { return Text(Child(e, tag)) }

// SetText replaces the element's text, in whichever pieces comments and processing
// instructions cut it; those stay. It leaves an element whose trimmed text already
// says so as it is.
func SetText(e *etree.Element, text string) {
	if Text(e) == text && (text != "" || len(e.Child) == 0) {
		return
	}
	if !hasRemarks(e) {
		e.SetText(text)
		return
	}
	written := false
	for i := 0; i < len(e.Child); i++ {
		data, ok := e.Child[i].(*etree.CharData)
		switch {
		case !ok:
		case written:
			e.RemoveChildAt(i)
			i--
		default:
			data.SetData(text)
			written = true
		}
	}
	if !written {
		e.InsertChildAt(0, etree.NewText(text))
	}
}

// hasRemarks reports whether an element holds a comment or a processing instruction.
func hasRemarks(e *etree.Element) bool {
	for _, token := range e.Child {
		if _, ok := token.(*etree.CharData); !ok {
			return true
		}
	}
	return false
}

// SetChildText sets the text of the first child of that name, adding it in the
// schema's order where it is absent, and returns it.
func SetChildText(e *etree.Element, tag, text string) *etree.Element {
	c := ChildOrNew(e, tag)
	SetText(c, text)
	return c
}

// RemoveChildren removes every child element with one of these names.
func RemoveChildren(e *etree.Element, tags ...string) {
	for i := len(e.Child) - 1; i >= 0; i-- {
		if c, ok := e.Child[i].(*etree.Element); ok && c.Space == "" && slices.Contains(tags, c.Tag) {
			e.RemoveChildAt(i)
		}
	}
}

// Attr returns the value of an attribute without a namespace prefix, "" where
// it is absent.
func Attr(e *etree.Element, key string) string {
	for i := range e.Attr {
		if e.Attr[i].Key == key && e.Attr[i].Space == "" {
			return e.Attr[i].Value
		}
	}
	return ""
}

// ChildOrNew is the first child of this tag; where there is none it is made, in its place
// (see AddInOrder).
func ChildOrNew(parent *etree.Element, tag string) *etree.Element {
	child := Child(parent, tag)
	if child == nil {
		child = etree.NewElement(tag)
		AddInOrder(parent, child)
	}
	return child
}

// AddInOrder inserts child where the MusicXML 4.0 schema wants it among the
// children of parent: after the last child that belongs before it or beside it.
// In an element whose order the schema leaves free (a measure) it is appended.
func AddInOrder(parent, child *etree.Element) {
	order, ok := childOrder[parent.Tag]
	if !ok {
		parent.AddChild(child)
		return
	}
	rank := rankIn(order, child.Tag)
	at := 0
	for i, token := range parent.Child {
		if c, ok := token.(*etree.Element); ok && (c.Space != "" || rankIn(order, c.Tag) <= rank) {
			at = i + 1
		}
	}
	parent.InsertChildAt(at, child)
}

// rankIn returns the place of a tag in the order; unknown ones go last.
func rankIn(order []string, tag string) int {
	for i, name := range order {
		for one := range strings.SplitSeq(name, "|") {
			if one == tag {
				return i
			}
		}
	}
	return len(order)
}

// childOrder is the order of children in the sequences of the MusicXML 4.0
// schema (musicxml.xsd, the complex type of each name); names joined by | share
// a place.
var childOrder = map[string][]string{
	"score-partwise":   {"work", "movement-number", "movement-title", "identification", "defaults", "credit", "part-list", "part"},
	"identification":   {"creator", "rights", "encoding", "source", "relation", "miscellaneous"},
	"defaults":         {"scaling", "concert-score", "page-layout", "system-layout", "staff-layout", "appearance", "music-font", "word-font", "lyric-font", "lyric-language"},
	"credit":           {"credit-type", "link", "bookmark", "credit-image|credit-words|credit-symbol"},
	"score-part":       {"identification", "part-link", "part-name", "part-name-display", "part-abbreviation", "part-abbreviation-display", "group", "score-instrument", "player", "midi-device|midi-instrument"},
	"score-instrument": {"instrument-name", "instrument-abbreviation", "instrument-sound", "solo|ensemble", "virtual-instrument"},
	"midi-instrument":  {"midi-channel", "midi-name", "midi-bank", "midi-program", "midi-unpitched", "volume", "pan", "elevation"},
	"print":            {"page-layout", "system-layout", "staff-layout", "measure-layout", "measure-numbering", "part-name-display", "part-abbreviation-display"},
	"page-layout":      {"page-height", "page-width", "page-margins"},
	"system-layout":    {"system-margins", "system-distance", "top-system-distance", "system-dividers"},
	"attributes":       {"footnote", "level", "divisions", "key", "time", "staves", "part-symbol", "instruments", "clef", "staff-details", "transpose|for-part", "directive", "measure-style"},
	"key":              {"cancel", "fifths", "mode", "key-step|key-alter|key-accidental", "key-octave"},
	"clef":             {"sign", "line", "clef-octave-change"},
	"part-clef":        {"sign", "line", "clef-octave-change"},
	"transpose":        {"diatonic", "chromatic", "octave-change", "double"},
	"part-transpose":   {"diatonic", "chromatic", "octave-change", "double"},
	"for-part":         {"part-clef", "part-transpose"},
	"staff-details":    {"staff-type", "staff-lines", "line-detail", "staff-tuning", "capo", "staff-size"},
	"note":             {"grace", "cue", "chord", "pitch|unpitched|rest", "duration", "tie", "instrument", "footnote", "level", "voice", "type", "dot", "accidental", "time-modification", "stem", "notehead", "notehead-text", "staff", "beam", "notations", "lyric", "play", "listen"},
	"pitch":            {"step", "alter", "octave"},
	"rest":             {"display-step", "display-octave"},
	"unpitched":        {"display-step", "display-octave"},
	"notations":        {"footnote", "level", "tied|slur|tuplet|glissando|slide|ornaments|technical|articulations|dynamics|fermata|arpeggiate|non-arpeggiate|accidental-mark|other-notation"},
	"direction":        {"direction-type", "offset", "footnote", "level", "voice", "staff", "sound", "listening"},
	"harmony":          {"root|numeral|function", "kind", "inversion", "bass", "degree", "frame", "offset", "footnote", "level", "staff"},
	"root":             {"root-step", "root-alter"},
	"bass":             {"bass-separator", "bass-step", "bass-alter"},
	"numeral":          {"numeral-root", "numeral-alter", "numeral-key"},
	"numeral-key":      {"numeral-fifths", "numeral-mode"},
	"figure":           {"prefix", "figure-number", "suffix", "extend", "footnote", "level"},
	"forward":          {"duration", "footnote", "level", "voice", "staff"},
	"barline":          {"bar-style", "footnote", "level", "wavy-line", "segno", "coda", "fermata", "ending", "repeat"},
	"sound":            {"instrument-change", "midi-device", "midi-instrument", "play", "swing", "offset"},
	"frame-note":       {"string", "fret", "fingering", "barre"},
	"accord":           {"tuning-step", "tuning-alter", "tuning-octave"},
	"staff-tuning":     {"tuning-step", "tuning-alter", "tuning-octave"},
	"pedal-tuning":     {"pedal-step", "pedal-alter"},
}

// Content names what an element holds, so that equal content compares equal.
func Content(e *etree.Element) string {
	var b strings.Builder
	writeContent(&b, e)
	return b.String()
}

func writeContent(b *strings.Builder, e *etree.Element) {
	b.WriteString(e.Tag)
	b.WriteString("=")
	b.WriteString(Text(e))
	for c := range e.ChildElementsSeq() {
		b.WriteString(" ")
		writeContent(b, c)
	}
}
