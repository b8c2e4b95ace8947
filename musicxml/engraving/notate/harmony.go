package notate

import (
	"cmp"
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
	staff := m.staff(mark.Event.Staff)
	if frame := musicxml.Child(e, "frame"); frame != nil {
		m.mark(staff, engraving.Mark{Onset: mark.Onset, Kind: engraving.MarkFrame, Diagram: readFrame(frame), Side: engraving.Above})
	}
	text := harmonyText(e)
	if text == "" {
		return
	}
	if kind := musicxml.Child(e, "kind"); kind != nil && kind.SelectAttr("text") == nil {
		// "other" is told by its degrees.
		if name := musicxml.Text(kind); name != "other" && name != "none" && !isKey(kindTexts, name) {
			m.census.miss("chord kind "+name, m.bar)
		}
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
	text = printedAs(root, text)
	switch {
	case alter == nil || musicxml.Attr(alter, "print-object") == "no":
		return text
	case musicxml.Attr(alter, "location") == "right":
		return text + alterText(e, "numeral-alter")
	}
	return alterText(e, "numeral-alter") + text
}

func letter(e *etree.Element, prefix string) string {
	step := musicxml.Child(e, prefix+"-step")
	return printedAs(step, musicxml.Text(step)) + alterText(e, prefix+"-alter")
}

// printedAs is the text that an element asks to be printed as, be it empty, else the usual one.
func printedAs(e *etree.Element, usual string) string {
	if e == nil {
		return usual
	}
	return e.SelectAttrValue("text", usual)
}

// alterText is the sign of an alteration that a child element has in semitones.
func alterText(e *etree.Element, tag string) string {
	alter, _ := strconv.ParseFloat(musicxml.ChildText(e, tag), 64)
	return map[float64]string{-2: "♭♭", -1: "♭", 1: "♯", 2: "𝄪"}[alter]
}

func kindText(e *etree.Element) string {
	kind := musicxml.Text(e)
	if kind == "none" {
		return cmp.Or(musicxml.Attr(e, "text"), "N.C.")
	}
	usual := kindTexts[kind]
	if symbol := kindSymbols[kind]; symbol != "" && musicxml.Attr(e, "use-symbols") == "yes" {
		usual = symbol
	}
	return printedAs(e, usual)
}

func degreeText(e *etree.Element) string {
	if musicxml.Attr(e, "print-object") == "no" {
		return ""
	}
	kind := musicxml.Child(e, "degree-type")
	name := printedAs(kind, map[string]string{"add": "add", "subtract": "no", "alter": ""}[musicxml.Text(kind)])
	return "(" + name + alterText(e, "degree-alter") + musicxml.ChildText(e, "degree-value") + ")"
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
	m.mark(m.staff(mark.Event.Staff), engraving.Mark{Onset: onset, Kind: engraving.MarkFigure, Text: text, Side: readSide(mark.Element)})
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
