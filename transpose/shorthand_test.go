package transpose_test

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// The tests write parts in a shorthand, measure by measure, parted by bars:
//
//	key:2 F#4 C#5+sharp ~D5~ | tr:-1,-2 v2:Eb4+flat*2~ &G4 back:2 g:A4
//
// A note is a pitch as Pitch.String writes it, a quarter note long. Before it
// stand, each with a colon, g (grace), c (cue), h (hidden), v2 (voice), s2
// (staff), and & (of the same chord) and ~ (a tie ends); behind it +sharp prints
// a sign, +sharp(cautionary) with an attribute set to yes, *2 makes it two
// quarters long, ~ starts a tie; [<x/>] adds an element to the note. R is a rest,
// key:N a signature (key2:N for staff 2, key!N hidden), tr:D,C,O a <transpose>,
// fp:D,C,O a <for-part>, clef:S a clef, back:N and fwd:N move the time by N
// quarters, {<x/>} is any element of the measure.

// partOf builds a <part> from shorthand.
func partOf(t testing.TB, shorthand string) *etree.Element {
	t.Helper()
	part := etree.NewElement("part")
	part.CreateAttr("id", "P1")
	for i, bar := range strings.Split(shorthand, "|") {
		m := part.CreateElement("measure")
		m.CreateAttr("number", strconv.Itoa(i+1))
		if i == 0 {
			m.CreateElement("attributes").CreateElement("divisions").SetText("8")
		}
		for _, token := range tokens(bar) {
			require.NoError(t, addToken(m, token), token)
		}
	}
	return part
}

// tokens parts a measure at blanks outside brackets.
func tokens(bar string) []string {
	var list []string
	depth, from := 0, -1
	for i, c := range bar + " " {
		switch c {
		case '[', '{':
			depth++
		case ']', '}':
			depth--
		}
		blank := c == ' ' || c == '\n' || c == '\t'
		switch {
		case blank && depth == 0 && from >= 0:
			list, from = append(list, bar[from:i]), -1
		case !blank && from < 0:
			from = i
		}
	}
	return list
}

func addToken(m *etree.Element, token string) error {
	if xml, ok := strings.CutPrefix(token, "{"); ok {
		return addXML(m, strings.TrimSuffix(xml, "}"))
	}
	word, value, _ := strings.Cut(token, ":")
	switch strings.TrimRight(word, "0123456789") {
	case "key":
		return addAttribute(m, "<key><fifths>"+value+"</fifths></key>", word)
	case "tr":
		return addAttribute(m, transposeXML("transpose", value), word)
	case "fp":
		return addAttribute(m, "<for-part>"+transposeXML("part-transpose", value)+"</for-part>", word)
	case "clef":
		return addAttribute(m, "<clef><sign>"+value+"</sign></clef>", word)
	case "back":
		return addXML(m, "<backup><duration>"+divisions(value)+"</duration></backup>")
	case "fwd":
		return addXML(m, "<forward><duration>"+divisions(value)+"</duration></forward>")
	}
	if fifths, ok := strings.CutPrefix(token, "key!"); ok {
		return addAttribute(m, `<key print-object="no"><fifths>`+fifths+`</fifths></key>`, "")
	}
	return addNote(m, token)
}

func addXML(parent *etree.Element, xml string) error {
	doc := etree.NewDocument()
	if err := doc.ReadFromString(xml); err != nil {
		return err
	}
	for _, e := range doc.ChildElements() {
		parent.AddChild(e)
	}
	return nil
}

func transposeXML(tag, value string) string {
	numbers := strings.Split(value+",0", ",")
	xml := "<" + tag + "><diatonic>" + numbers[0] + "</diatonic><chromatic>" + numbers[1] + "</chromatic>"
	if numbers[2] != "0" {
		xml += "<octave-change>" + numbers[2] + "</octave-change>"
	}
	return xml + "</" + tag + ">"
}

// divisions writes quarters, such as "2" or "0.5", in eighths of a quarter.
func divisions(quarters string) string {
	f, err := strconv.ParseFloat(quarters, 64)
	if err != nil {
		return "?"
	}
	return strconv.Itoa(int(f * 8))
}

// addAttribute adds to the <attributes> that stands last in the measure, or to a
// new one. The digits at the end of word are the staff.
func addAttribute(m *etree.Element, xml, word string) error {
	children := m.ChildElements()
	var attributes *etree.Element
	if n := len(children); n > 0 && children[n-1].Tag == "attributes" {
		attributes = children[n-1]
	} else {
		attributes = m.CreateElement("attributes")
	}
	holder := etree.NewElement("x")
	if err := addXML(holder, xml); err != nil {
		return err
	}
	for _, e := range holder.ChildElements() {
		if staff := strings.TrimLeft(word, "keytrfpcl"); staff != "" {
			e.CreateAttr("number", staff)
		}
		musicxml.AddInOrder(attributes, e)
	}
	return nil
}

func addNote(m *etree.Element, token string) error {
	n := m.CreateElement("note")
	var extra string
	if open := strings.IndexByte(token, '['); open >= 0 {
		token, extra = token[:open], strings.TrimSuffix(token[open+1:], "]")
	}
	token, tieStart := strings.CutSuffix(token, "~")
	token, quarters, long := strings.Cut(token, "*")
	if !long {
		quarters = "1"
	}
	token, sign, _ := strings.Cut(token, "+")
	voice, staff, chord, grace := "1", "", false, false
	for {
		flag, rest, more := strings.Cut(token, ":")
		if !more {
			break
		}
		token = rest
		switch flag[0] { // an empty flag is a fault of the test
		case 'g':
			grace = true
		case 'c':
			n.CreateElement("cue")
		case 'h':
			n.CreateAttr("print-object", "no")
		case 'v':
			voice = flag[1:]
		case 's':
			staff = flag[1:]
		}
	}
	token, chord = strings.CutPrefix(token, "&")
	token, tieStop := strings.CutPrefix(token, "~")
	if grace {
		n.CreateElement("grace")
	}
	if chord {
		n.CreateElement("chord")
	}
	if token == "R" {
		n.CreateElement("rest")
	} else {
		p, err := pitch.Parse(token)
		if err != nil {
			return err
		}
		if err := music.WritePitch(n.CreateElement("pitch"), p); err != nil {
			return err
		}
	}
	if !grace {
		n.CreateElement("duration").SetText(divisions(quarters))
	}
	for _, tie := range tieTypes(tieStop, tieStart) {
		n.CreateElement("tie").CreateAttr("type", tie)
	}
	n.CreateElement("voice").SetText(voice)
	if sign != "" {
		addSign(n, sign)
	}
	if staff != "" {
		n.CreateElement("staff").SetText(staff)
	}
	return addXML(n, extra)
}

func tieTypes(stop, start bool) []string {
	var types []string
	if stop {
		types = append(types, "stop")
	}
	if start {
		types = append(types, "start")
	}
	return types
}

// addSign adds an <accidental> from "sharp" or "sharp(cautionary,bracket)".
func addSign(n *etree.Element, sign string) {
	name, marks, marked := strings.Cut(strings.TrimSuffix(sign, ")"), "(")
	e := n.CreateElement("accidental")
	e.SetText(name)
	if marked {
		for _, mark := range strings.Split(marks, ",") {
			e.CreateAttr(mark, "yes")
		}
	}
}

// inShorthand writes a part as the tests write it: notes with their signs and
// ties, keys and transpositions; other elements and durations are left out.
func inShorthand(t testing.TB, part *etree.Element) string {
	t.Helper()
	var bars []string
	for _, m := range part.SelectElements("measure") {
		var words []string
		for _, e := range m.ChildElements() {
			switch e.Tag {
			case "attributes":
				words = append(words, attributesShorthand(e)...)
			case "note":
				words = append(words, noteShorthand(t, e))
			}
		}
		bars = append(bars, strings.Join(words, " "))
	}
	return strings.Join(bars, " | ")
}

func attributesShorthand(attributes *etree.Element) []string {
	var words []string
	for _, e := range attributes.ChildElements() {
		staff := e.SelectAttrValue("number", "")
		switch e.Tag {
		case "key":
			mark := ":"
			if e.SelectAttrValue("print-object", "yes") == "no" {
				mark = "!"
			}
			words = append(words, "key"+staff+mark+musicxml.ChildText(e, "fifths"))
		case "transpose":
			words = append(words, "tr"+staff+":"+transposeShorthand(e))
		case "for-part":
			words = append(words, "fp"+staff+":"+transposeShorthand(e.SelectElement("part-transpose")))
		}
	}
	return words
}

func transposeShorthand(e *etree.Element) string {
	text := musicxml.ChildText(e, "diatonic") + "," + musicxml.ChildText(e, "chromatic")
	if octaves := musicxml.ChildText(e, "octave-change"); octaves != "" {
		text += "," + octaves
	}
	return text
}

func noteShorthand(t testing.TB, n *etree.Element) string {
	t.Helper()
	if n.SelectElement("rest") != nil {
		return "R"
	}
	p, err := music.ReadPitch(n.SelectElement("pitch"))
	require.NoError(t, err)
	word := p.String()
	if sign := n.SelectElement("accidental"); sign != nil {
		word += "+" + strings.TrimSpace(sign.Text())
		var marks []string
		for _, a := range sign.Attr {
			marks = append(marks, a.Key)
		}
		if len(marks) > 0 {
			word += "(" + strings.Join(marks, ",") + ")"
		}
	}
	for _, tie := range n.SelectElements("tie") {
		if tie.SelectAttrValue("type", "") == "stop" {
			word = "~" + word
		} else {
			word += "~"
		}
	}
	return word
}

// to is a single stretch from the first bar.
func to(diatonic, chromatic, octaves int) []transpose.Stretch {
	return []transpose.Stretch{{To: transpose.Transposition{Diatonic: diatonic, Chromatic: chromatic, OctaveChange: octaves}}}
}

// moved moves a part given in shorthand and returns it in shorthand.
func moved(t testing.TB, part string, o transpose.Options) (string, transpose.Result) {
	t.Helper()
	e := partOf(t, part)
	result := move(t, e, o)
	return inShorthand(t, e), result
}

func ExampleMove() {
	doc := etree.NewDocument()
	_ = doc.ReadFromString(`<part><measure number="1">
		<attributes><divisions>1</divisions><key><fifths>0</fifths></key></attributes>
		<note><pitch><step>C</step><octave>4</octave></pitch><duration>1</duration></note>
	</measure></part>`)
	timeline, err := musicxml.NewTimeline(doc.Root())
	if err != nil {
		fmt.Println(err)
		return
	}
	// A clarinet in B flat sounds a major second lower than it reads.
	o := transpose.DefaultOptions()
	o.Stretches = []transpose.Stretch{{To: transpose.Transposition{Diatonic: -1, Chromatic: -2}}}
	result, err := transpose.Move(timeline, o)
	if err != nil {
		fmt.Println(err)
		return
	}
	p, _ := music.ReadPitch(doc.FindElement("//pitch"))
	fmt.Println(result.Moved, "to", p, "in", doc.FindElement("//fifths").Text(), "sharps")
	// Output: major second up to D4 in 2 sharps
}
