package shorthand

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"
)

// divisions of a quarter note: triplets of sixteenths come out even.
const divisions = 24

// Notes for Measures.
const (
	WholeRest = `<note><rest measure="yes"/><duration>8</duration></note>`
	QuarterC  = `<note><pitch><step>C</step><octave>5</octave></pitch><duration>2</duration><type>quarter</type></note>`
	WholeC    = `<note><pitch><step>C</step><octave>5</octave></pitch><duration>8</duration><type>whole</type></note>`
)

// Measures builds a part from the inside of its measures as XML; the first is given four
// quarter notes a bar, two divisions a quarter, no signature and the treble clef.
func Measures(t testing.TB, inside ...string) *etree.Element {
	t.Helper()
	const head = `<attributes><divisions>2</divisions><key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time><clef><sign>G</sign><line>2</line></clef></attributes>`
	var text strings.Builder
	for i, m := range inside {
		if i == 0 {
			m = head + m
		}
		fmt.Fprintf(&text, `<measure number="%d">%s</measure>`, i+1, m)
	}
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(`<part id="P1">`+text.String()+`</part>`))
	return doc.Root()
}

// Part builds a <part>.
func Part(t testing.TB, music string) *etree.Element {
	t.Helper()
	time := "4/4"
	if m := regexp.MustCompile(`^(\d+/\d+) `).FindStringSubmatch(music); m != nil {
		time, music = m[1], music[len(m[0]):]
	}
	part := etree.NewElement("part")
	for i, bar := range strings.Split(music, " | ") {
		w := writer{t: t, measure: part.CreateElement("measure"), voice: 1, staff: 1, staves: strings.Contains(bar, " // ")}
		w.measure.CreateAttr("number", strconv.Itoa(i+1))
		if i == 0 {
			w.opening(time, strings.Count(bar, " // ")+1)
		}
		for _, token := range tokens.FindAllString(bar, -1) {
			w.token(strings.TrimSpace(token))
		}
	}
	return part
}

// tokens are parted by blanks, those within quotes, brackets and elements aside.
var tokens = regexp.MustCompile(`"[^"]*"|\[[^\]]*\]|<<|<[^<].*?>(?:\s|$)|\S+«[^»]*»|\S+`)

// writer writes one measure.
type writer struct {
	t            testing.TB
	measure      *etree.Element
	voice, staff int
	staves       bool // the staff is said of everything
	now          int  // divisions that are written in the voice
}

// opening writes what a part begins with.
func (w *writer) opening(time string, staves int) {
	beats, unit, _ := strings.Cut(time, "/")
	attributes := w.measure.CreateElement("attributes")
	attributes.CreateElement("divisions").SetText(strconv.Itoa(divisions))
	signature := attributes.CreateElement("time")
	signature.CreateElement("beats").SetText(beats)
	signature.CreateElement("beat-type").SetText(unit)
	if staves > 1 {
		attributes.CreateElement("staves").SetText(strconv.Itoa(staves))
	}
}

func (w *writer) token(token string) {
	switch {
	case token == "/" || token == "<<":
		w.nextVoice()
	case token == "//":
		w.nextVoice()
		w.staff++
	case token == "R":
		w.wholeRest()
	case token[0] == '=':
		w.staff = int(token[1] - '0')
	case token[0] == '"':
		w.direction().CreateElement("words").SetText(strings.Trim(token, `"`))
	case token[0] == '!':
		w.sign(token[1:])
	case token[0] == '[':
		w.attribute(strings.Fields(strings.Trim(token, "[]")))
	case token[0] == '<':
		w.element(token)
	case w.clef(token):
	default:
		w.note(token)
	}
}

// nextVoice goes back to the start of the bar.
func (w *writer) nextVoice() {
	w.voice++
	if w.now > 0 {
		w.measure.CreateElement("backup").CreateElement("duration").SetText(strconv.Itoa(w.now))
	}
	w.now = 0
}

// wholeRest rests for four quarters.
func (w *writer) wholeRest() {
	note := w.measure.CreateElement("note")
	note.CreateElement("rest").CreateAttr("measure", "yes")
	note.CreateElement("duration").SetText(strconv.Itoa(4 * divisions))
	note.CreateElement("voice").SetText(strconv.Itoa(w.voice))
	w.now += 4 * divisions
}

func (w *writer) direction() *etree.Element {
	d := w.measure.CreateElement("direction")
	typed := d.CreateElement("direction-type")
	if w.staves {
		d.CreateElement("staff").SetText(strconv.Itoa(w.staff))
	}
	return typed
}

// sign writes a dynamic or one end of a hairpin.
func (w *writer) sign(sign string) {
	if kind := map[string]string{"<": "crescendo", ">": "diminuendo", ".": "stop"}[sign]; kind != "" {
		w.direction().CreateElement("wedge").CreateAttr("type", kind)
		return
	}
	w.direction().CreateElement("dynamics").CreateElement(sign)
}

// element writes a change of sound, of the first instrument, a tempo, or an element as
// it stands.
func (w *writer) element(token string) {
	words := strings.Fields(strings.Trim(token, "<>"))
	switch words[0] {
	case "tempo":
		w.measure.CreateElement("sound").CreateAttr("tempo", words[1])
	case "change":
		typed := w.direction()
		typed.CreateElement("other-direction")
		change := typed.Parent().CreateElement("sound").CreateElement("instrument-change")
		change.CreateAttr("id", "I1")
		change.CreateElement("instrument-sound").SetText(words[1])
	default:
		w.raw(w.measure, token)
	}
}

// raw adds elements as they stand.
func (w *writer) raw(parent *etree.Element, xml string) {
	doc := etree.NewDocument()
	require.NoError(w.t, doc.ReadFromString("<x>"+xml+"</x>"), xml)
	for _, e := range doc.Root().ChildElements() {
		parent.AddChild(e)
	}
}
