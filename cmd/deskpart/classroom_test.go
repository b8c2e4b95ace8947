package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
)

// A class as a teacher collects it: the files of pupils with all sorts of notation
// programs, each with habits of its own, some with a mistake. They are made from the
// answers of a sheet by editing the XML, with nothing of the marker's own.

// handedIn is one file of the class.
type handedIn struct {
	name string // the file's
	// pupil is the name that the class is to list it under.
	pupil     string
	exercises []int
	do        func(c *classroom, number int) []byte
	// kinds are the mistakes that are to be named, code what a file is that cannot be
	// marked.
	kinds []string
	code  string
}

// classroom makes files out of a sheet.
type classroom struct {
	t     *testing.T
	sheet string
}

// theSheet are the flags of the sheet that the class works on.
var theSheet = []string{"exercise", "--level", "3", "--count", "6", "--seed", "5", "--quiet"}

var sixExercises = []int{1, 2, 3, 4, 5, 6}

// theClass are 24 answers, and three files that are none.
func theClass() []handedIn {
	return []handedIn{
		{"Amira 1.musicxml", "Amira", []int{1}, edited(), nil, ""},
		{"Bruno Aufgabe 2.xml", "Bruno", []int{2}, edited(finerDivisions), nil, ""},
		{"Clara_3.musicxml", "Clara", []int{3}, edited(barely), nil, ""},
		{"Davi 4.musicxml", "Davi", []int{4}, edited(grandStaff), nil, ""},
		{"Emil 5.musicxml", "Emil", []int{5}, edited(without("transpose")), nil, ""},
		{"Fadi 6.musicxml", "Fadi", []int{6}, edited(tiedHalves), nil, ""},
		{"Greta 1.musicxml", "Greta", []int{1}, edited(without("key"), spelledOut), []string{"key-signature"}, ""},
		{"Hana 2.musicxml", "Hana", []int{2}, edited(bassClef), nil, ""},
		{"Ivo 3.mxl", "Ivo", []int{3}, compressed, nil, ""},
		{"Jonas 4.musicxml", "Jonas", []int{4}, timewise, nil, ""},
		{"Karim 5.musicxml", "Karim", []int{5}, utf16File, nil, ""},
		{"Lena 6.musicxml", "Lena", []int{6}, edited(blankBarsAfter), nil, ""},
		{"Mia 1.musicxml", "Mia", []int{1}, edited(titleBar), nil, ""},
		{"Noah 2.musicxml", "Noah", []int{2}, edited(decorated), nil, ""},
		{"Olga alles.musicxml", "Olga", sixExercises, together(true), nil, ""},
		{"Pia alle Aufgaben.musicxml", "Pia", sixExercises, together(false), nil, ""},
		{"Quirin 3.musicxml", "Quirin", []int{3}, questionAbove, nil, ""},
		{"Rosa 4 Klasse 8.musicxml", "Rosa", []int{5}, edited(secondVoice), nil, ""},
		{"Samir 6.musicxml", "Samir", []int{6}, edited(barLeftOut), []string{"missing"}, ""},
		{"Tom 1.musicxml", "Tom", []int{1}, copied, []string{"wrong-interval"}, ""},
		{"Uma 2.musicxml", "Uma", []int{2}, edited(octaveHigher), []string{"wrong-octave"}, ""},
		{"Viktor 3.musicxml", "Viktor", []int{3}, edited(barTwice), []string{"extra"}, ""},
		{"Wilma/answer_4 (1).musicxml", "Wilma", []int{4}, edited(barBlank), []string{"missing"}, ""},
		{"Yusuf 5.musicxml", "Yusuf", []int{5}, edited(firstNoteAccidental), []string{"accidental"}, ""},
		{"Zoe 6.pdf", "Zoe", nil, holding("%PDF-1.7\n"), nil, "is-pdf"},
		{"Zoe 5.musicxml", "Zoe", nil, holding(""), nil, "empty-file"},
		{"Zoe 4.mid", "Zoe", nil, holding("MThd\x00\x00\x00\x06"), nil, "is-midi"},
	}
}

// TestClassroom marks the class: who wrote what is right however the file was made, and
// of mistakes the one that was made is named.
func TestClassroom(t *testing.T) {
	sheet, class := newClassroom(t)
	stdout, errs, code := command(t, "mark", sheet, class, "--json")
	require.Equal(t, exitNeedsPerson, code, errs)
	var said struct {
		Answers []struct {
			File, Pupil, Code, Error, Why   string
			Exercise, Notes, Right, Lenient int
			Mistakes                        []struct{ Kind, Text string }
		}
	}
	require.NoError(t, json.Unmarshal([]byte(stdout), &said))
	for _, h := range theClass() {
		var numbers []int
		for _, a := range said.Answers {
			if !strings.HasSuffix(a.File, h.name) {
				continue
			}
			assert.Equal(t, h.pupil, a.Pupil, h.name)
			if h.code != "" {
				assert.Equal(t, h.code, a.Code, h.name)
				assert.NotEmpty(t, a.Error, h.name)
				continue
			}
			assert.NotEmpty(t, a.Why, h.name)
			numbers = append(numbers, a.Exercise)
			var kinds []string
			for _, m := range a.Mistakes {
				kinds = append(kinds, m.Kind)
			}
			assert.Equal(t, h.kinds, kinds, "%s: %v", h.name, a.Mistakes)
			if len(h.kinds) == 0 {
				assert.Equal(t, a.Notes, a.Right, h.name)
				assert.Equal(t, a.Notes, a.Lenient, h.name)
			}
		}
		assert.Equal(t, h.exercises, numbers, h.name)
	}
}

// newClassroom writes a sheet and the files of the class.
func newClassroom(t *testing.T) (sheet, class string) {
	t.Helper()
	dir := t.TempDir()
	sheet, class = filepath.Join(dir, "sheet"), filepath.Join(dir, "class")
	_, errs, code := command(t, append(theSheet, "--out", sheet)...)
	require.Equal(t, exitDone, code, errs)
	room := &classroom{t, sheet}
	for _, h := range theClass() {
		file := filepath.Join(class, h.name)
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o777))
		number := 1
		if len(h.exercises) > 0 {
			number = h.exercises[0]
		}
		require.NoError(t, os.WriteFile(file, h.do(room, number), 0o666))
	}
	return sheet, class
}

// answer is an answer of the sheet, without what tells where it comes from.
func (c *classroom) answer(number int) *etree.Document { return c.read("answer", number) }

func (c *classroom) read(what string, number int) *etree.Document {
	c.t.Helper()
	doc := etree.NewDocument()
	require.NoError(c.t, doc.ReadFromFile(filepath.Join(c.sheet, fmt.Sprintf("%s-%02d.musicxml", what, number))))
	remove(doc.Root(), "identification", "work")
	return doc
}

func (c *classroom) bytes(doc *etree.Document) []byte {
	c.t.Helper()
	data, err := doc.WriteToBytes()
	require.NoError(c.t, err)
	return data
}

// habit changes an answer as a program or a pupil does.
type habit func(part *etree.Element)

// edited is an answer with habits.
func edited(habits ...habit) func(*classroom, int) []byte {
	return func(c *classroom, number int) []byte {
		doc := c.answer(number)
		for _, do := range habits {
			do(doc.FindElement("//part"))
		}
		return c.bytes(doc)
	}
}

func holding(text string) func(*classroom, int) []byte {
	return func(*classroom, int) []byte { return []byte(text) }
}

// copied is the question, handed in as it was.
func copied(c *classroom, number int) []byte { return c.bytes(c.read("exercise", number)) }

func compressed(c *classroom, number int) []byte {
	var packed bytes.Buffer
	require.NoError(c.t, musicxml.WriteContainer(&packed, "Score.musicxml", musicxml.File{Name: "Score.musicxml", Data: c.bytes(c.answer(number))}))
	return packed.Bytes()
}

func utf16File(c *classroom, number int) []byte {
	doc := c.answer(number)
	text := strings.Replace(string(c.bytes(doc)), `encoding="UTF-8"`, `encoding="UTF-16"`, 1)
	data := []byte{0xff, 0xfe}
	for _, unit := range utf16.Encode([]rune(text)) {
		data = append(data, byte(unit), byte(unit>>8))
	}
	return data
}

// timewise has the parts in the measures.
func timewise(c *classroom, number int) []byte {
	doc := c.answer(number)
	root := doc.Root()
	root.Tag = "score-timewise"
	part := root.SelectElement("part")
	root.RemoveChild(part)
	for _, m := range part.SelectElements("measure") {
		inner := etree.NewElement("part")
		inner.CreateAttr("id", "P1")
		for _, e := range m.ChildElements() {
			inner.AddChild(e)
		}
		m.AddChild(inner)
		root.AddChild(m)
	}
	doc = etree.NewDocument()
	doc.CreateProcInst("xml", `version="1.0" encoding="UTF-8"`)
	doc.SetRoot(root)
	return c.bytes(doc)
}

// together is one file for all exercises: as parts, or one after another in one.
func together(asParts bool) func(*classroom, int) []byte {
	return func(c *classroom, _ int) []byte {
		all := c.answer(sixExercises[0])
		list, first := all.FindElement("//part-list"), all.FindElement("//part")
		for _, number := range sixExercises[1:] {
			part := c.answer(number).FindElement("//part")
			if asParts {
				id := "P" + strconv.Itoa(number)
				entry := list.SelectElement("score-part").Copy()
				entry.CreateAttr("id", id)
				remove(entry, "score-instrument", "midi-instrument")
				list.AddChild(entry)
				part.CreateAttr("id", id)
				all.Root().AddChild(part)
				continue
			}
			for _, m := range part.SelectElements("measure") {
				first.AddChild(m)
				m.CreateAttr("number", strconv.Itoa(len(first.SelectElements("measure"))))
			}
		}
		return c.bytes(all)
	}
}

// questionAbove has the question on a staff above the answer.
func questionAbove(c *classroom, number int) []byte {
	doc := c.answer(number)
	entry, part := doc.FindElement("//score-part"), doc.FindElement("//part")
	remove(entry, "score-instrument", "midi-instrument")
	above, question := entry.Copy(), c.read("exercise", number).FindElement("//part")
	above.CreateAttr("id", "P9")
	question.CreateAttr("id", "P9")
	entry.Parent().InsertChildAt(entry.Index(), above)
	part.Parent().InsertChildAt(part.Index(), question)
	return c.bytes(doc)
}

func remove(from *etree.Element, tags ...string) {
	for _, e := range from.ChildElements() {
		if slices.Contains(tags, e.Tag) {
			from.RemoveChild(e)
		}
	}
}

func measures(part *etree.Element) []*etree.Element { return part.SelectElements("measure") }

// without leaves an attribute out.
func without(tag string) habit {
	return func(part *etree.Element) {
		for _, a := range part.FindElements("measure/attributes") {
			remove(a, tag)
		}
	}
}

// finerDivisions counts 2520 to what was one.
func finerDivisions(part *etree.Element) {
	for _, e := range append(part.FindElements("//divisions"), part.FindElements("//duration")...) {
		n, _ := strconv.Atoi(e.Text())
		e.SetText(strconv.Itoa(2520 * n))
	}
}

// barely writes pitches and durations alone.
func barely(part *etree.Element) {
	for _, n := range part.FindElements("measure/note") {
		remove(n, "voice", "type", "dot", "accidental", "stem", "beam", "time-modification", "notations")
	}
}

// spelledOut has an accidental before every note that is altered.
func spelledOut(part *etree.Element) {
	signs := map[string]string{"1": "sharp", "-1": "flat", "2": "double-sharp", "-2": "flat-flat"}
	for _, n := range part.FindElements("measure/note") {
		alter := n.FindElement("pitch/alter")
		remove(n, "accidental")
		if alter != nil {
			e := etree.NewElement("accidental")
			e.SetText(signs[alter.Text()])
			musicxml.AddInOrder(n, e)
		}
	}
}

// under adds a rest under the notes of a bar, in another voice.
func under(m *etree.Element, voice string) *etree.Element {
	length := lengthOf(m)
	m.CreateElement("backup").CreateElement("duration").SetText(strconv.Itoa(length))
	rest := restOf(length)
	setChild(rest, "voice", voice)
	m.AddChild(rest)
	return rest
}

// lengthOf is how long the notes of a bar last, one after the other.
func lengthOf(m *etree.Element) (length int) {
	for _, n := range m.SelectElements("note") {
		length += durationOf(n)
	}
	return length
}

// setAll sets a child of every note of a bar.
func setAll(m *etree.Element, tag, text string) {
	for _, n := range m.SelectElements("note") {
		setChild(n, tag, text)
	}
}

// grandStaff is how a program sets up a piano: the lower staff stays empty.
func grandStaff(part *etree.Element) {
	for i, m := range measures(part) {
		setAll(m, "staff", "1")
		if i == 0 {
			a := m.SelectElement("attributes")
			setChild(a, "staves", "2")
			clef := a.SelectElement("clef")
			clef.CreateAttr("number", "1")
			low := etree.NewElement("clef")
			low.CreateAttr("number", "2")
			low.CreateElement("sign").SetText("F")
			low.CreateElement("line").SetText("4")
			a.InsertChildAt(clef.Index()+1, low)
		}
		setChild(under(m, "5"), "staff", "2")
	}
}

// tiedHalves writes every note of an even length as two tied ones.
func tiedHalves(part *etree.Element) {
	finerDivisions(part)
	for _, n := range part.FindElements("measure/note") {
		if n.SelectElement("pitch") == nil || n.SelectElement("tie") != nil || n.SelectElement("time-modification") != nil {
			continue
		}
		remove(n, "type", "dot", "beam")
		half := strconv.Itoa(durationOf(n) / 2)
		n.SelectElement("duration").SetText(half)
		second := n.Copy()
		remove(second, "accidental")
		addTie(n, "start")
		addTie(second, "stop")
		n.Parent().InsertChildAt(n.Index()+1, second)
	}
}

func addTie(n *etree.Element, kind string) {
	tie := etree.NewElement("tie")
	tie.CreateAttr("type", kind)
	musicxml.AddInOrder(n, tie)
	notations := etree.NewElement("notations")
	notations.CreateElement("tied").CreateAttr("type", kind)
	musicxml.AddInOrder(n, notations)
}

// bassClef shows the same notes in another clef.
func bassClef(part *etree.Element) {
	clef := part.FindElement("measure/attributes/clef")
	clef.SelectElement("sign").SetText("F")
	clef.SelectElement("line").SetText("4")
	remove(clef, "clef-octave-change")
}

// blankBarsAfter leaves the rest of a page that a program sets up with 32 bars.
func blankBarsAfter(part *etree.Element) {
	length := lengthOf(measures(part)[1])
	for n := len(measures(part)) + 1; n <= 32; n++ {
		m := part.CreateElement("measure")
		m.CreateAttr("number", strconv.Itoa(n))
		m.AddChild(restOf(length))
	}
}

// titleBar is an empty first bar.
func titleBar(part *etree.Element) {
	first := measures(part)[0]
	m := etree.NewElement("measure")
	m.CreateAttr("number", "0")
	m.AddChild(first.SelectElement("attributes").Copy())
	m.AddChild(restOf(lengthOf(measures(part)[1])))
	part.InsertChildAt(first.Index(), m)
}

// decorated has marks that were not asked for.
func decorated(part *etree.Element) {
	for i, m := range measures(part) {
		direction := etree.NewElement("direction")
		direction.CreateElement("direction-type").CreateElement("words").SetText("Takt " + strconv.Itoa(i+1) + ", C7")
		m.InsertChildAt(0, direction)
		for k, n := range m.SelectElements("note") {
			notations := etree.NewElement("notations")
			notations.CreateElement("technical").CreateElement("fingering").SetText(strconv.Itoa(k%3 + 1))
			if k == 0 {
				notations.CreateElement("articulations").CreateElement("staccato")
			}
			if n.SelectElement("notations") == nil {
				musicxml.AddInOrder(n, notations)
			}
			lyric := etree.NewElement("lyric")
			lyric.CreateElement("text").SetText("la")
			musicxml.AddInOrder(n, lyric)
		}
	}
}

// secondVoice writes the rests of a second voice under the first, as invisible ones.
func secondVoice(part *etree.Element) {
	for _, m := range measures(part) {
		setAll(m, "voice", "3")
		under(m, "4").CreateAttr("print-object", "no")
	}
}

func barLeftOut(part *etree.Element) { part.RemoveChild(measures(part)[2]) }

func barTwice(part *etree.Element) {
	third := measures(part)[2]
	part.InsertChildAt(third.Index()+1, third.Copy())
}

func barBlank(part *etree.Element) {
	third := measures(part)[2]
	length := lengthOf(third)
	remove(third, "note")
	third.AddChild(restOf(length))
}

func octaveHigher(part *etree.Element) {
	for _, o := range part.FindElements("measure/note/pitch/octave") {
		n, _ := strconv.Atoi(o.Text())
		o.SetText(strconv.Itoa(n + 1))
	}
}

// firstNoteAccidental leaves out the first accidental: the note is read by the
// signature, and so are those on its line up to the next sign.
func firstNoteAccidental(part *etree.Element) {
	signed := part.FindElement("measure/note[accidental]")
	step, octave := signed.FindElement("pitch/step").Text(), signed.FindElement("pitch/octave").Text()
	plain := alterIn(part, step)
	for at, n := 0, signed.Parent().SelectElements("note"); at < len(n); at++ {
		p := n[at].SelectElement("pitch")
		if n[at].Index() < signed.Index() || p == nil || p.SelectElement("step").Text() != step || p.SelectElement("octave").Text() != octave {
			continue
		}
		if n[at] != signed && n[at].SelectElement("accidental") != nil {
			break
		}
		remove(n[at], "accidental")
		remove(p, "alter")
		if plain != 0 {
			musicxml.AddInOrder(p, textElement("alter", strconv.Itoa(plain)))
		}
	}
}

// alterIn is what the part's signature does to a letter.
func alterIn(part *etree.Element, step string) int {
	fifths, _ := strconv.Atoi(part.FindElement("measure/attributes/key/fifths").Text())
	const order = "FCGDAEB"
	switch at := strings.Index(order, step); {
	case fifths > at:
		return 1
	case -fifths > len(order)-1-at:
		return -1
	}
	return 0
}

func textElement(tag, text string) *etree.Element {
	e := etree.NewElement(tag)
	e.SetText(text)
	return e
}

func setChild(e *etree.Element, tag, text string) {
	remove(e, tag)
	musicxml.AddInOrder(e, textElement(tag, text))
}

func restOf(length int) *etree.Element {
	n := etree.NewElement("note")
	n.CreateElement("rest").CreateAttr("measure", "yes")
	n.CreateElement("duration").SetText(strconv.Itoa(length))
	return n
}

func durationOf(n *etree.Element) int {
	if n.SelectElement("chord") != nil {
		return 0
	}
	d, _ := strconv.Atoi(n.SelectElement("duration").Text())
	return d
}
