package notate

import (
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/music"
)

// kindTexts are the usual suffixes of chord symbols where a file gives no text of
// its own (MusicXML 4.0, kind-value).
var kindTexts = map[string]string{
	"major": "", "minor": "m", "augmented": "+", "diminished": "dim", "dominant": "7", "major-seventh": "maj7",
	"minor-seventh": "m7", "diminished-seventh": "dim7", "augmented-seventh": "+7", "half-diminished": "m7♭5",
	"major-minor": "m(maj7)", "major-sixth": "6", "minor-sixth": "m6", "dominant-ninth": "9", "major-ninth": "maj9",
	"minor-ninth": "m9", "dominant-11th": "11", "major-11th": "maj11", "minor-11th": "m11", "dominant-13th": "13",
	"major-13th": "maj13", "minor-13th": "m13", "suspended-second": "sus2", "suspended-fourth": "sus4",
	"Neapolitan": "N", "Italian": "It", "French": "Fr", "German": "Ger", "pedal": "ped", "power": "5", "Tristan": "Tristan",
}

// kindSymbols are the signs that chord symbols have where a file asks for them
// (MusicXML 4.0, kind, use-symbols).
var kindSymbols = map[string]string{"major": "△", "minor": "-", "augmented": "+", "diminished": "°", "half-diminished": "ø",
	"major-seventh": "△7", "minor-seventh": "-7", "augmented-seventh": "+7", "diminished-seventh": "°7"}

// harmony reads a chord symbol.
func (m *measureReader) harmony(mark *music.Mark) {
	e := mark.Element
	staff := m.staff(max(mark.Event.Staff, 1))
	if frame := musicxml.Child(e, "frame"); frame != nil {
		m.mark(staff, engraving.Mark{Onset: mark.Onset, Kind: engraving.MarkFrame, Diagram: readFrame(frame), Side: engraving.Above})
	}
	text := harmonyText(e)
	if text == "" {
		return
	}
	if kind := musicxml.Child(e, "kind"); kind != nil && !hasAttr(kind, "text") && !known(musicxml.Text(kind)) {
		m.census.miss("chord kind "+musicxml.Text(kind), m.bar)
	}
	for i := range m.measures[staff].Marks {
		if other := &m.measures[staff].Marks[i]; other.Kind == engraving.MarkHarmony && other.Onset == mark.Onset {
			if other.Text != text {
				other.Text += "  " + text // two symbols at one place
			}
			return
		}
	}
	m.mark(staff, engraving.Mark{Onset: mark.Onset, Kind: engraving.MarkHarmony, Text: text, Side: readSide(e)})
}

// harmonyText writes a chord symbol; several chords at one place follow each other.
func harmonyText(e *etree.Element) string {
	if kind := musicxml.Child(e, "kind"); musicxml.Text(kind) == "none" {
		return kindText(kind) // whatever root the file gives it (MusicXML 4.0, kind-value)
	}
	text := ""
	for _, child := range e.ChildElements() {
		switch child.Tag {
		case "root":
			text += letter(child, "root")
		case "numeral":
			text += numeralText(child)
		case "function":
			text += musicxml.Text(child)
		case "kind":
			text += kindText(child)
		case "bass":
			text += "/" + letter(child, "bass")
		case "degree":
			text += degreeText(child)
		}
	}
	return strings.TrimSpace(text)
}

// numeralText writes a degree of the scale as the file has it; else as a Roman numeral, which
// no suffix after it makes another number (MusicXML 4.0, numeral-root: as one likes).
func numeralText(e *etree.Element) string {
	root, alter := musicxml.Child(e, "numeral-root"), musicxml.Child(e, "numeral-alter")
	text := musicxml.Text(root)
	if n, ok := musicxml.Digits(text); ok && n >= 1 && n <= 7 {
		text = []string{"I", "II", "III", "IV", "V", "VI", "VII"}[n-1]
	}
	if root != nil && hasAttr(root, "text") {
		text = musicxml.Attr(root, "text")
	}
	if alter == nil || musicxml.Attr(alter, "print-object") == "no" {
		return text
	}
	by, _ := strconv.ParseFloat(musicxml.Text(alter), 64)
	if musicxml.Attr(alter, "location") == "right" {
		return text + alterText(by)
	}
	return alterText(by) + text
}

func letter(e *etree.Element, prefix string) string {
	step := musicxml.Child(e, prefix+"-step")
	text := musicxml.Text(step)
	if step != nil && hasAttr(step, "text") {
		text = musicxml.Attr(step, "text")
	}
	alter, _ := strconv.ParseFloat(musicxml.ChildText(e, prefix+"-alter"), 64)
	return text + alterText(alter)
}

func hasAttr(e *etree.Element, key string) bool { return e.SelectAttr(key) != nil }

func alterText(alter float64) string {
	return map[float64]string{-2: "♭♭", -1: "♭", 1: "♯", 2: "𝄪"}[alter]
}

// known reports whether a kind of chord has a suffix, or needs none ("other" is told by
// its degrees).
func known(kind string) bool {
	_, known := kindTexts[kind]
	return known || kind == "other" || kind == "none"
}

func kindText(e *etree.Element) string {
	kind := musicxml.Text(e)
	if kind == "none" {
		if text := musicxml.Attr(e, "text"); text != "" {
			return text
		}
		return "N.C."
	}
	if hasAttr(e, "text") {
		return musicxml.Attr(e, "text")
	}
	if symbol, known := kindSymbols[kind]; known && musicxml.Attr(e, "use-symbols") == "yes" {
		return symbol
	}
	return kindTexts[kind]
}

func degreeText(e *etree.Element) string {
	if musicxml.Attr(e, "print-object") == "no" {
		return ""
	}
	alter, _ := strconv.ParseFloat(musicxml.ChildText(e, "degree-alter"), 64)
	value := musicxml.ChildText(e, "degree-value")
	kind := musicxml.Child(e, "degree-type")
	name := map[string]string{"add": "add", "subtract": "no", "alter": ""}[musicxml.Text(kind)]
	if kind != nil && hasAttr(kind, "text") {
		name = musicxml.Attr(kind, "text")
	}
	return "(" + name + alterText(alter) + value + ")"
}

// figures reads figured bass, one line for each figure.
func (m *measureReader) figures(mark *music.Mark) {
	var lines []string
	for _, f := range musicxml.Children(mark.Element, "figure") {
		if text := figureText(f); text != "" {
			lines = append(lines, text)
		}
		if line := musicxml.Child(f, "extend"); line != nil && musicxml.Attr(line, "type") != "stop" {
			m.census.miss("line after a figure", m.bar)
		}
	}
	onset := m.figuresOnset(mark)
	if len(lines) == 0 {
		return
	}
	text := strings.Join(lines, "\n")
	if musicxml.Attr(mark.Element, "parentheses") == "yes" {
		text = "(" + text + ")"
	}
	m.mark(m.staff(max(mark.Event.Staff, 1)), engraving.Mark{Onset: onset, Kind: engraving.MarkFigure, Text: text, Side: readSide(mark.Element)})
}

// figuresOnset is when figures are played: those that stand in a row before a note
// each last their duration (MusicXML 4.0, figured-bass).
func (m *measureReader) figuresOnset(mark *music.Mark) musicxml.Fraction {
	onset := mark.Onset
	if m.figured == onset && onset.Less(m.figuresFrom) {
		onset = m.figuresFrom
	}
	m.figured, m.figuresFrom = mark.Onset, onset
	if length, err := musicxml.ParseFraction(musicxml.ChildText(mark.Element, "duration")); err == nil {
		m.figuresFrom = onset.Add(length.Mul(m.division()))
	}
	return onset
}

// division is the unit of durations, in quarter notes, as the first note of the bar
// has it.
func (m *measureReader) division() musicxml.Fraction {
	for i := range m.source.Events {
		ev := &m.source.Events[i]
		if ev.Duration.Sign() <= 0 {
			continue
		}
		if length, err := musicxml.ParseFraction(musicxml.ChildText(ev.Element, "duration")); err == nil && length.Sign() > 0 {
			return ev.Duration.Div(length)
		}
	}
	return musicxml.Fraction{}
}

// figureText writes a figure with the sign before and behind it; a stroke goes through
// the figure, or stands alone where there is none (MusicXML 4.0, suffix).
func figureText(f *etree.Element) string {
	prefix, number, suffix := musicxml.ChildText(f, "prefix"), musicxml.ChildText(f, "figure-number"), musicxml.ChildText(f, "suffix")
	for _, sign := range []*string{&prefix, &suffix} {
		if stroke := figureStrokes[*sign]; stroke != "" && number != "" {
			number, *sign = number+stroke, ""
		}
	}
	return figureSign(prefix) + number + figureSign(suffix)
}

// figureStrokes are the strokes through figures, as Unicode lays them over the
// character before.
var figureStrokes = map[string]string{"slash": engraving.SlashOverlay, "back-slash": engraving.BackslashOverlay, "backslash": engraving.BackslashOverlay, "vertical": engraving.VerticalOverlay}

func figureSign(name string) string {
	return map[string]string{"sharp": "♯", "flat": "♭", "natural": "♮", "double-sharp": "𝄪", "flat-flat": "♭♭",
		"sharp-sharp": "♯♯", "cross": "+", "plus": "+", "slash": "/", "back-slash": "\\", "backslash": "\\", "vertical": "|"}[name]
}
