package parts_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
)

// Music for the tests of this package is written in a shorthand, a token a note,
// and read back from the part in the same one. Bars are parted by "|".
//
//	C4        quarter note without <stem>
//	C4:e^     eighth note, stem up; v is down, ! is none; :w :h :q :e :s
//	[ - ]     after the stem: first beam begins, goes on, ends
//	( ) ~     slur begins, ends; a tie leads on from here
//	+E4       in the chord of the note before
//	g!D4      grace note
//	u!D4      unpitched, at that place; r:h a rest
//	{XML}     after all that: <notations> children, with · for a space
//	treble    clef, by its name; 2treble on staff 2
//	=2        from here on staff 2
//	<<        back to the start of the bar, for the next voice
//	<XML>     anything else, as it stands
var musicToken = regexp.MustCompile(`\S+\{[^}]*\}|<<|<[^<](?:[^|])*?>(?:\s|$)|\S+`)

var noteToken = regexp.MustCompile(`^([gu]!)?(\+)?(?:([A-G])(#|b)?(\d)|r)(?::([whqes]))?([\^v!])?([\[\-\]])?([()]*)(~)?(?:\{(.*)\})?$`)

var lengths = map[string]struct {
	duration int
	name     string
}{"w": {16, "whole"}, "h": {8, "half"}, "q": {4, "quarter"}, "": {4, "quarter"}, "e": {2, "eighth"}, "s": {1, "16th"}}

// music writes a <part> from the shorthand.
func music(text string) string {
	var b strings.Builder
	b.WriteString(`<part id="P1"><measure number="1"><attributes><divisions>4</divisions><key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time></attributes>`)
	bar, voice, staff, now := 1, 1, 1, 0
	for _, token := range musicToken.FindAllString(text, -1) {
		token = strings.TrimSpace(token)
		switch {
		case token == "|":
			bar++
			voice, staff, now = 1, 1, 0
			fmt.Fprintf(&b, `</measure><measure number="%d">`, bar)
		case token == "<<":
			fmt.Fprintf(&b, `<backup><duration>%d</duration></backup>`, now)
			voice, now = voice+1, 0
		case token[0] == '=':
			staff = int(token[1] - '0')
		case token[0] == '<':
			b.WriteString(token)
		case clefXML(token) != "":
			b.WriteString("<attributes>" + clefXML(token) + "</attributes>")
		default:
			xml, length := noteXML(token, voice, staff)
			b.WriteString(xml)
			now += length
		}
	}
	return b.String() + `</measure></part>`
}

func clefXML(name string) string {
	number := ""
	if strings.HasPrefix(name, "2") {
		number, name = ` number="2"`, name[1:]
	}
	if name == "TAB" {
		return "<clef" + number + "><sign>TAB</sign><line>5</line></clef>"
	}
	c, ok := instruments.ParseClef(name)
	if !ok {
		return ""
	}
	xml := "<clef" + number + "><sign>" + c.Sign + "</sign>"
	if c.Line > 0 {
		xml += fmt.Sprintf("<line>%d</line>", c.Line)
	}
	if c.OctaveChange != 0 {
		xml += fmt.Sprintf("<clef-octave-change>%d</clef-octave-change>", c.OctaveChange)
	}
	return xml + "</clef>"
}

func noteXML(token string, voice, staff int) (string, int) {
	m := noteToken.FindStringSubmatch(token)
	if m == nil {
		panic("not a note: " + token)
	}
	grace, chord, rest := m[1] == "g!", m[2] != "", m[3] == ""
	length := lengths[m[6]]
	xml := "<note>"
	if grace {
		xml += "<grace/>"
	}
	if chord {
		xml += "<chord/>"
	}
	switch {
	case rest:
		xml += "<rest/>"
	case m[1] == "u!":
		xml += "<unpitched><display-step>" + m[3] + "</display-step><display-octave>" + m[5] + "</display-octave></unpitched>"
	default:
		alter := map[string]string{"#": "<alter>1</alter>", "b": "<alter>-1</alter>"}[m[4]]
		xml += "<pitch><step>" + m[3] + "</step>" + alter + "<octave>" + m[5] + "</octave></pitch>"
	}
	if !grace {
		xml += fmt.Sprintf("<duration>%d</duration>", length.duration)
	}
	if m[10] != "" {
		xml += `<tie type="start"/>`
	}
	xml += fmt.Sprintf("<voice>%d</voice><type>%s</type>", voice, length.name)
	if m[7] != "" {
		xml += "<stem>" + map[string]string{"^": "up", "v": "down", "!": "none"}[m[7]] + "</stem>"
	}
	if staff > 1 || voice > 4 {
		xml += fmt.Sprintf("<staff>%d</staff>", staff)
	}
	if m[8] != "" {
		xml += `<beam number="1">` + map[string]string{"[": "begin", "-": "continue", "]": "end"}[m[8]] + "</beam>"
	}
	if marks := strings.ReplaceAll(m[11], "·", " ") + slurXML(m[9]); marks != "" {
		xml += "<notations>" + marks + "</notations>"
	}
	if grace || chord {
		return xml + "</note>", 0
	}
	return xml + "</note>", length.duration
}

func slurXML(signs string) string {
	xml := ""
	for _, sign := range signs {
		xml += map[rune]string{'(': `<slur type="start" number="1"/>`, ')': `<slur type="stop" number="1"/>`}[sign]
	}
	return xml
}

// shown reads a part back: clefs, pitches, stems and beams.
func shown(part *etree.Element) string {
	var tokens []string
	for i, measure := range part.SelectElements("measure") {
		if i > 0 {
			tokens = append(tokens, "|")
		}
		for _, e := range measure.ChildElements() {
			switch e.Tag {
			case "attributes":
				for _, clef := range e.SelectElements("clef") {
					tokens = append(tokens, shownClef(clef))
				}
			case "note":
				tokens = append(tokens, shownNote(e))
			case "backup":
				tokens = append(tokens, "<<")
			}
		}
	}
	return strings.Join(tokens, " ")
}

func shownClef(e *etree.Element) string {
	var line, octaves int
	fmt.Sscan(childText(e, "line"), &line)
	fmt.Sscan(childText(e, "clef-octave-change"), &octaves)
	name := instruments.Clef{Sign: childText(e, "sign"), Line: line, OctaveChange: octaves}.Name()
	if number := e.SelectAttrValue("number", "1"); number != "1" {
		return number + name
	}
	return name
}

func shownNote(e *etree.Element) string {
	text := ""
	if e.SelectElement("grace") != nil {
		text = "g!"
	}
	if e.SelectElement("chord") != nil {
		text += "+"
	}
	switch pitch := e.SelectElement("pitch"); {
	case pitch != nil:
		sign := map[string]string{"1": "#", "-1": "b"}[childText(pitch, "alter")]
		text += childText(pitch, "step") + sign + childText(pitch, "octave")
	case e.SelectElement("rest") != nil:
		text += "r"
	default:
		text += "u!" + childText(e.SelectElement("unpitched"), "display-step") + childText(e.SelectElement("unpitched"), "display-octave")
	}
	text += map[string]string{"up": "^", "down": "v", "none": "!"}[childText(e, "stem")]
	return text + map[string]string{"begin": "[", "continue": "-", "end": "]"}[childText(e, "beam")]
}

// scoreOf makes a score of one part of that name.
func scoreOf(t testing.TB, name, partXML string, defaults ...string) *musicxml.Score {
	t.Helper()
	xml := `<score-partwise version="4.0">` + strings.Join(defaults, "") +
		`<part-list><score-part id="P1"><part-name>` + name + `</part-name></score-part></part-list>` + partXML + `</score-partwise>`
	score, err := musicxml.Read([]byte(xml), musicxml.ReadOptions{})
	require.NoError(t, err)
	return score
}

// handedTo makes the part for an instrument of the catalogue; "" leaves it to the
// part's name.
func handedTo(t testing.TB, score *musicxml.Score, instrument, clef string) madePart {
	t.Helper()
	o := parts.DefaultOptions()
	o.RestBars = 0
	if instrument != "" || clef != "" {
		o.Plan = []parts.PlanRow{{Part: "P1", Instrument: instrument, Clef: clef}}
	}
	made := makePartsOf(t, score, o)
	require.Len(t, made, 1)
	return made[0]
}

// warned lists the warnings of a code as "measure:beat".
func warned(m madePart, code string) []string {
	var places []string
	for _, w := range m.sheet.Report.Warnings {
		if string(w.Code) == code {
			places = append(places, w.Measure+":"+w.Beat)
		}
	}
	return places
}

// stemsOf lists the stems of a part's notes in document order, rests left out.
func stemsOf(part *etree.Element) []string {
	var stems []string
	for _, measure := range part.SelectElements("measure") {
		for _, note := range measure.SelectElements("note") {
			if note.SelectElement("rest") == nil {
				stems = append(stems, childText(note, "stem"))
			}
		}
	}
	return stems
}
