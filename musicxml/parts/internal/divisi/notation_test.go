package divisi_test

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
)

// The tests write music in a short notation, bar by bar:
//
//	E5:q          a note: pitch and value (w h q e s, d for a dot, t for a triplet)
//	C5+E5:h       a chord        r:q  a rest      x:q  a hidden rest
//	_:q           nothing        g(D5:e)  a grace note
//	"1."          words          !p   a dynamic   !< !> !.  a hairpin and its end
//	E5:q(  E5:q)  a slur         E5:q~ E5:q^  a tie, with ~2 in another number
//	E5:e{ E5:e- E5:e}   beams    E5:et[ E5:et]  a tuplet
//	E5:q#12       for the instruments 1 and 2     E5:q*  a hidden note
//	E5:q?         a fermata      E5:q. staccato   E5:q'la'  a syllable
//
// Voices of a bar are parted by " / ", staves by " // ", bars by " | ".
const divisionsInTests = 24

var lengths = map[byte]int{'w': 96, 'h': 48, 'q': 24, 'e': 12, 's': 6}
var valueNames = map[byte]string{'w': "whole", 'h': "half", 'q': "quarter", 'e': "eighth", 's': "16th"}
var valueLetters = map[string]string{"whole": "w", "half": "h", "quarter": "q", "eighth": "e", "16th": "s"}

// part builds a <part> from the notation, in four quarter notes unless the time
// is given in front: "3/4 E5:hd".
func part(t testing.TB, music string) *etree.Element {
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
			attributes.CreateElement("divisions").SetText(strconv.Itoa(divisionsInTests))
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
	for _, token := range regexp.MustCompile(`"[^"]*"|\S+`).FindAllString(tokens, -1) {
		switch {
		case strings.HasPrefix(token, `"`):
			direction(measure, staff, staves).CreateElement("words").SetText(strings.Trim(token, `"`))
		case strings.HasPrefix(token, "!"):
			writeSign(direction(measure, staff, staves), token[1:])
		default:
			length += writeNote(t, measure, token, voice, staff, staves)
		}
	}
	return length
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

// read writes a <part> in the notation; what it cannot say is left out.
func read(part *etree.Element) string {
	var bars []string
	for _, measure := range musicxml.Children(part, "measure") {
		bars = append(bars, readBar(measure))
	}
	return strings.Join(bars, " | ")
}

func readBar(measure *etree.Element) string {
	var tokens []string
	for _, e := range measure.ChildElements() {
		switch e.Tag {
		case "note":
			if musicxml.Child(e, "chord") != nil {
				last := len(tokens) - 1
				head, tail, _ := strings.Cut(tokens[last], ":")
				tokens[last] = head + "+" + readPitch(e) + ":" + tail
				continue
			}
			tokens = append(tokens, readNote(e))
		case "direction":
			tokens = append(tokens, readDirection(e)...)
		case "backup":
			tokens = append(tokens, "/")
		case "forward":
			tokens = append(tokens, "_"+musicxml.ChildText(e, "duration"))
		}
	}
	return strings.Join(tokens, " ")
}

func readDirection(e *etree.Element) []string {
	var tokens []string
	at := ""
	if offset := musicxml.ChildText(e, "offset"); offset != "" {
		at = "@" + offset
	}
	for _, typed := range musicxml.Children(e, "direction-type") {
		for _, c := range typed.ChildElements() {
			switch c.Tag {
			case "words":
				tokens = append(tokens, fmt.Sprintf("%q%s", musicxml.Text(c), at))
			case "dynamics":
				tokens = append(tokens, "!"+c.ChildElements()[0].Tag+at)
			case "wedge":
				tokens = append(tokens, "!"+map[string]string{"crescendo": "<", "diminuendo": ">", "stop": "."}[musicxml.Attr(c, "type")]+at)
			}
		}
	}
	return tokens
}

func readPitch(e *etree.Element) string {
	if rest := musicxml.Child(e, "rest"); rest != nil {
		if musicxml.Attr(rest, "measure") == "yes" {
			return "R"
		}
		return "r"
	}
	p := musicxml.Child(e, "pitch")
	alter, _ := strconv.Atoi(musicxml.ChildText(p, "alter"))
	sign := strings.Repeat("#", max(0, alter)) + strings.Repeat("b", max(0, -alter))
	return musicxml.ChildText(p, "step") + sign + musicxml.ChildText(p, "octave")
}

func readNote(e *etree.Element) string {
	pitch := readPitch(e)
	if pitch == "R" && musicxml.Child(e, "notations") == nil {
		return pitch
	}
	if pitch == "R" {
		return "R?"
	}
	text := pitch + ":" + valueLetters[musicxml.ChildText(e, "type")]
	if musicxml.ChildText(e, "type") == "" {
		text += musicxml.ChildText(e, "duration")
	}
	text += strings.Repeat("d", len(musicxml.Children(e, "dot")))
	if musicxml.Child(e, "time-modification") != nil {
		text += "t"
	}
	for _, beam := range musicxml.Children(e, "beam") {
		if musicxml.Attr(beam, "number") == "1" {
			text += map[string]string{"begin": "{", "continue": "-", "end": "}"}[musicxml.Text(beam)]
		}
	}
	for _, tie := range musicxml.Children(e, "tie") {
		text += map[string]string{"stop": "^", "start": "~"}[musicxml.Attr(tie, "type")]
	}
	for _, notations := range musicxml.Children(e, "notations") {
		for _, c := range notations.ChildElements() {
			text += map[string]string{"slurstop": ")", "slurstart": "(", "tupletstart": "[", "tupletstop": "]", "fermata": "?",
				"articulations": "."}[c.Tag+musicxml.Attr(c, "type")]
		}
	}
	if musicxml.Attr(e, "print-object") == "no" {
		text += "*"
	}
	if id := musicxml.Children(e, "instrument"); len(id) > 0 {
		text += "#"
		for _, i := range id {
			text += musicxml.Attr(i, "id")[1:]
		}
	}
	if lyric := musicxml.Child(e, "lyric"); lyric != nil {
		text += "'" + musicxml.ChildText(lyric, "text") + "'"
	}
	if musicxml.Child(e, "grace") != nil {
		return "g(" + text + ")"
	}
	return text
}
