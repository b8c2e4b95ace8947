package shorthand

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
)

// divisions of a quarter note: triplets of sixteenths come out even.
const divisions = 24

var lengths = map[byte]int{'w': 96, 'h': 48, 'q': 24, 'e': 12, 's': 6}
var valueNames = map[byte]string{'w': "whole", 'h': "half", 'q': "quarter", 'e': "eighth", 's': "16th"}
var valueLetters = map[string]string{"whole": "w", "half": "h", "quarter": "q", "eighth": "e", "16th": "s"}

// Part builds a <part>.
func Part(t testing.TB, music string) *etree.Element {
	t.Helper()
	time := "4/4"
	if m := regexp.MustCompile(`^(\d+/\d+) `).FindStringSubmatch(music); m != nil {
		time, music = m[1], music[len(m[0]):]
	}
	part := etree.NewElement("part")
	for i, bar := range strings.Split(music, " | ") {
		measure := part.CreateElement("measure")
		measure.CreateAttr("number", strconv.Itoa(i+1))
		staves := strings.Split(bar, " // ")
		if i == 0 {
			beats, unit, _ := strings.Cut(time, "/")
			attributes := measure.CreateElement("attributes")
			attributes.CreateElement("divisions").SetText(strconv.Itoa(divisions))
			signature := attributes.CreateElement("time")
			signature.CreateElement("beats").SetText(beats)
			signature.CreateElement("beat-type").SetText(unit)
			if len(staves) > 1 {
				attributes.CreateElement("staves").SetText(strconv.Itoa(len(staves)))
			}
		}
		voice, length := 0, 0
		for s, staff := range staves {
			for _, tokens := range strings.Split(staff, " / ") {
				voice++
				if length > 0 {
					measure.CreateElement("backup").CreateElement("duration").SetText(strconv.Itoa(length))
				}
				length = writeVoice(t, measure, tokens, voice, s+1, len(staves) > 1)
			}
		}
	}
	return part
}

func writeVoice(t testing.TB, measure *etree.Element, tokens string, voice, staff int, staves bool) int {
	length := 0
	for _, token := range regexp.MustCompile(`"[^"]*"|\[[^\]]*\]|<[^>]*>|\S+`).FindAllString(tokens, -1) {
		switch {
		case strings.HasPrefix(token, `"`):
			direction(measure, staff, staves).CreateElement("words").SetText(strings.Trim(token, `"`))
		case token == "R":
			length += writeWholeRest(measure, voice)
		case token[0] == '[':
			writeAttribute(measure, strings.Fields(strings.Trim(token, "[]")))
		case token[0] == '<':
			writeSound(measure, direction(measure, staff, staves), strings.Fields(strings.Trim(token, "<>")))
		case strings.HasPrefix(token, "!"):
			writeSign(direction(measure, staff, staves), token[1:])
		default:
			length += writeNote(t, measure, token, voice, staff, staves)
		}
	}
	return length
}

// writeWholeRest rests for four quarters.
func writeWholeRest(measure *etree.Element, voice int) int {
	note := measure.CreateElement("note")
	note.CreateElement("rest").CreateAttr("measure", "yes")
	note.CreateElement("duration").SetText(strconv.Itoa(4 * divisions))
	note.CreateElement("voice").SetText(strconv.Itoa(voice))
	return 4 * divisions
}

func direction(measure *etree.Element, staff int, staves bool) *etree.Element {
	d := measure.CreateElement("direction")
	typed := d.CreateElement("direction-type")
	if staves {
		d.CreateElement("staff").SetText(strconv.Itoa(staff))
	}
	return typed
}

func writeSign(typed *etree.Element, sign string) {
	if kind := map[string]string{"<": "crescendo", ">": "diminuendo", ".": "stop"}[sign]; kind != "" {
		typed.CreateElement("wedge").CreateAttr("type", kind)
		return
	}
	typed.CreateElement("dynamics").CreateElement(sign)
}

var notePattern = regexp.MustCompile(`^(g\()?([^:]+):([whqes])(d*)(t?)([^'#]*)(?:#(\d+))?(?:'([^']*)')?$`)

func writeNote(t testing.TB, measure *etree.Element, token string, voice, staff int, staves bool) int {
	m := notePattern.FindStringSubmatch(token)
	require.NotNil(t, m, "note %q", token)
	length := lengths[m[3][0]]
	if m[4] != "" {
		length = length * 3 / 2
	}
	if m[5] != "" {
		length = length * 2 / 3
	}
	if m[2] == "_" {
		forward := measure.CreateElement("forward")
		forward.CreateElement("duration").SetText(strconv.Itoa(length))
		return length
	}
	for i, pitch := range strings.Split(m[2], "+") {
		note := measure.CreateElement("note")
		note.AddChild(etree.NewComment(""))
		note.RemoveChildAt(0)
		if m[1] != "" {
			note.CreateElement("grace")
		}
		if i > 0 {
			note.CreateElement("chord")
		}
		writePitch(note, pitch)
		if m[1] == "" {
			note.CreateElement("duration").SetText(strconv.Itoa(length))
		}
		flags := strings.TrimSuffix(m[6], ")")
		if m[1] == "" {
			flags = m[6]
		}
		writeTies(note, flags)
		for _, id := range m[7] {
			note.CreateElement("instrument").CreateAttr("id", "I"+string(id))
		}
		note.CreateElement("voice").SetText(strconv.Itoa(voice))
		note.CreateElement("type").SetText(valueNames[m[3][0]])
		if m[4] != "" {
			note.CreateElement("dot")
		}
		if m[5] != "" {
			modified := note.CreateElement("time-modification")
			modified.CreateElement("actual-notes").SetText("3")
			modified.CreateElement("normal-notes").SetText("2")
		}
		if staves {
			note.CreateElement("staff").SetText(strconv.Itoa(staff))
		}
		if i == 0 {
			writeFlags(note, flags)
			if m[8] != "" {
				note.CreateElement("lyric").CreateElement("text").SetText(m[8])
			}
		} else if strings.Contains(flags, "~") || strings.Contains(flags, "^") {
			writeTied(note.CreateElement("notations"), flags)
		}
	}
	if m[1] != "" {
		return 0
	}
	return length
}

func writePitch(note *etree.Element, pitch string) {
	if pitch == "r" || pitch == "x" {
		note.CreateElement("rest")
		if pitch == "x" {
			note.CreateAttr("print-object", "no")
		}
		return
	}
	p := note.CreateElement("pitch")
	p.CreateElement("step").SetText(pitch[:1])
	if alter := strings.Count(pitch, "#") - strings.Count(pitch, "b"); alter != 0 {
		p.CreateElement("alter").SetText(strconv.Itoa(alter))
	}
	p.CreateElement("octave").SetText(pitch[len(pitch)-1:])
}

func writeTies(note *etree.Element, flags string) {
	if strings.Contains(flags, "^") {
		note.CreateElement("tie").CreateAttr("type", "stop")
	}
	if strings.Contains(flags, "~") {
		note.CreateElement("tie").CreateAttr("type", "start")
	}
}

func writeTied(notations *etree.Element, flags string) {
	if strings.Contains(flags, "^") {
		notations.CreateElement("tied").CreateAttr("type", "stop")
	}
	if strings.Contains(flags, "~") {
		notations.CreateElement("tied").CreateAttr("type", "start")
	}
}

var beamFlags = map[byte]string{'{': "begin", '-': "continue", '}': "end"}

func writeFlags(note *etree.Element, flags string) {
	for i := range len(flags) {
		if beam := beamFlags[flags[i]]; beam != "" {
			b := note.CreateElement("beam")
			b.CreateAttr("number", "1")
			b.SetText(beam)
		}
	}
	if strings.Contains(flags, "*") {
		note.CreateAttr("print-object", "no")
	}
	notations := etree.NewElement("notations")
	writeTied(notations, flags)
	for _, f := range flags {
		switch f {
		case ')':
			span(notations, "slur", "stop")
		case '(':
			span(notations, "slur", "start")
		case '[':
			span(notations, "tuplet", "start")
		case ']':
			span(notations, "tuplet", "stop")
		case '?':
			notations.CreateElement("fermata")
		case '.':
			notations.CreateElement("articulations").CreateElement("staccato")
		}
	}
	if len(notations.ChildElements()) > 0 {
		note.AddChild(notations)
	}
}

func span(notations *etree.Element, tag, end string) {
	e := notations.CreateElement(tag)
	e.CreateAttr("type", end)
	e.CreateAttr("number", "1")
}

// writeAttribute writes a key, clef, transpose or for-part into the measure's last
// <attributes>, if nothing has come since.
func writeAttribute(measure *etree.Element, words []string) {
	attributes, ok := measure.Child[max(0, len(measure.Child)-1):], false
	var home *etree.Element
	if len(attributes) > 0 {
		home, ok = attributes[0].(*etree.Element)
	}
	if !ok || home.Tag != "attributes" {
		home = measure.CreateElement("attributes")
	}
	e := etree.NewElement(words[0])
	switch words[0] {
	case "key":
		e.CreateElement("fifths").SetText(words[1])
	case "clef":
		e.CreateElement("sign").SetText(words[1])
		e.CreateElement("line").SetText(words[2])
	case "instruments":
		e.SetText(words[1])
	case "transpose":
		writeTranspose(e, words[1:])
	case "for":
		e.Tag = "for-part"
		writeTranspose(e.CreateElement("part-transpose"), words[1:])
	}
	musicxml.AddInOrder(home, e)
}

func writeTranspose(e *etree.Element, words []string) {
	for i, word := range words {
		e.CreateElement([]string{"diatonic", "chromatic", "octave-change"}[i]).SetText(word)
	}
}

// writeSound writes a change of sound, of the first instrument, or a tempo.
func writeSound(measure, typed *etree.Element, words []string) {
	typed.CreateElement("other-direction")
	if words[0] == "tempo" {
		measure.RemoveChild(typed.Parent())
		measure.CreateElement("sound").CreateAttr("tempo", words[1])
		return
	}
	change := typed.Parent().CreateElement("sound").CreateElement("instrument-change")
	change.CreateAttr("id", "I1")
	change.CreateElement("instrument-sound").SetText(words[1])
}

// Entry is a part of a score: its name, its score-instruments I1, I2 … and its
// music.
type Entry struct {
	Name        string
	Instruments []string
	Music       string
}

// Score builds a partwise score of parts P1, P2 … .
func Score(t testing.TB, entries ...Entry) []byte {
	t.Helper()
	doc := etree.NewDocument()
	root := doc.CreateElement("score-partwise")
	root.CreateAttr("version", "4.0")
	list := root.CreateElement("part-list")
	for n, entry := range entries {
		id := "P" + strconv.Itoa(n+1)
		e := list.CreateElement("score-part")
		e.CreateAttr("id", id)
		e.CreateElement("part-name").SetText(entry.Name)
		for i, name := range entry.Instruments {
			instrument := e.CreateElement("score-instrument")
			instrument.CreateAttr("id", "I"+strconv.Itoa(i+1))
			instrument.CreateElement("instrument-name").SetText(name)
		}
		part := Part(t, entry.Music)
		part.CreateAttr("id", id)
		root.AddChild(part)
	}
	data, err := doc.WriteToBytes()
	require.NoError(t, err)
	return data
}
