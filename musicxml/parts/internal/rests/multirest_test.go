package rests

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
)

// What breaks a rest of several bars: attributes that change what is printed, each of its own
// staff; not the same said again. A direction that only sounds, or prints nothing, does not.
func TestWhatBreaksRests(t *testing.T) {
	t.Parallel()
	f := &restRuns{current: map[string]string{}}
	for _, row := range []struct {
		says string
		want bool
	}{
		{`<divisions>2</divisions>`, false}, {`<key><fifths>1</fifths></key>`, true}, {`<key><fifths>1</fifths></key>`, false}, {`<key><fifths>2</fifths></key>`, true}, {`<time><beats>3</beats></time>`, true}, {`<clef><sign>G</sign></clef>`, true},
		{`<clef number="2"><sign>G</sign></clef>`, true}, {`<clef><sign>G</sign></clef>`, false}, {`<transpose><chromatic>-2</chromatic></transpose>`, true}, {`<staff-details><staff-lines>1</staff-lines></staff-details>`, true},
		{`<part-symbol>brace</part-symbol>`, true}, {`<instruments>2</instruments>`, true}, {`<measure-style><slash type="start"/></measure-style>`, true}, {`<staves>2</staves>`, true}, {`<staves>2</staves>`, false}, {`<for-part/>`, false},
		{`<key><fifths>2</fifths></key><time><beats>4</beats></time>`, true}, {`<time><beats>4</beats></time><key><fifths>2</fifths></key>`, false},
	} {
		assert.Equal(t, row.want, f.changes(musicxmltest.Element(t, `<attributes>`+row.says+`</attributes>`)), row.says)
	}
	for text, want := range map[string]bool{
		`<direction-type><words>x</words></direction-type>`: true, `<direction-type><words print-object="no">x</words></direction-type>`: false, `<sound tempo="60"/>`: false, ``: false,
		`<direction-type><words print-object="no">x</words></direction-type><direction-type><segno/></direction-type>`: true, `<direction-type><words print-object="yes">x</words></direction-type>`: true,
	} {
		assert.Equal(t, want, isSeen(musicxmltest.Element(t, `<direction>`+text+`</direction>`)), text)
	}
}

// Runs of empty bars joined, "2+3" for three bars from the second on; what breaks them
// (notation-rules section 10), and what the source said of its own.
func TestCounts(t *testing.T) {
	t.Parallel()
	const whole, note = `<note><rest measure="yes"/><duration>8</duration><voice>1</voice></note>`, `<note><pitch><step>C</step><octave>5</octave></pitch><duration>8</duration><voice>1</voice></note>`
	const words, key = `<direction><direction-type><words>x</words></direction-type></direction>`, `<attributes><key><fifths>1</fifths></key></attributes>`
	old := func(more string) string {
		return `<attributes><measure-style><multiple-rest` + more + `>9</multiple-rest></measure-style></attributes>`
	}
	line := func(more, location string) string {
		return `<barline location="` + location + `">` + more + `</barline>`
	}
	half := strings.ReplaceAll(strings.ReplaceAll(whole, ">8<", ">4<"), ` measure="yes"`, "")
	for _, row := range []struct {
		why   string
		bars  []string
		least int
		want  string
	}{
		{"four", []string{whole, whole, whole, whole}, 2, "1+4"}, {"never", []string{whole, whole, whole, whole}, 0, ""}, {"too few", []string{whole, whole, note, whole, whole, whole}, 3, "4+3"}, {"one", []string{note, whole, note}, 1, "2+1"}, {"around a note", []string{whole, whole, note, whole, whole}, 2, "1+2 4+2"},
		{"its own counts", []string{old("") + whole, whole, note}, 2, "1+2"}, {"and none new", []string{note, old("") + whole, note}, 2, ""}, {"with old symbols", []string{old(` use-symbols="yes"`) + whole, whole, whole, whole, note, whole, whole, whole, whole, whole}, 2, "1+4s 6+5"}, {"without them", []string{old(` use-symbols="no"`) + whole, whole}, 2, "1+2"},
		{"words", []string{whole, words + whole, whole}, 2, "2+2"}, {"words within", []string{whole, whole, half + words + half, whole, whole}, 2, "1+2 4+2"}, {"words behind", []string{whole, whole + words, whole, whole}, 2, "1+2 3+2"}, {"a key", []string{whole, whole, key + whole, key + whole}, 2, "1+2 3+2"}, {"a key behind", []string{whole, whole + key, whole, key + whole}, 2, "1+2 3+2"},
		{"another instrument sounds", []string{whole, whole, `<sound><instrument-change id="I"/></sound>` + whole, whole}, 2, "1+2 3+2"}, {"behind", []string{whole, whole + `<sound><instrument-change id="I"/></sound>`, whole, whole}, 2, "1+2 3+2"}, {"a tempo that sounds", []string{whole, `<sound tempo="60"/>` + whole}, 2, "1+2"},
		{"a name beside the staff", []string{whole, whole, `<print><part-name-display/></print>` + whole, whole}, 2, "1+2 3+2"}, {"a short one", []string{whole, whole, `<print><part-abbreviation-display/></print>` + whole, whole}, 2, "1+2 3+2"}, {"numbers of bars", []string{whole, whole, `<print><measure-numbering>none</measure-numbering></print>` + whole, whole}, 2, "1+2 3+2"}, {"a new system", []string{whole, `<print new-system="yes"/>` + whole}, 2, "1+2"},
		{"a double bar", []string{whole, whole + line(`<bar-style>light-light</bar-style>`, "right"), whole, whole}, 2, "1+2 3+2"}, {"at the left", []string{whole, whole, line(`<bar-style>light-light</bar-style>`, "left") + whole, whole}, 2, "1+2 3+2"}, {"in the middle", []string{whole, whole, half + line(`<bar-style>dashed</bar-style>`, "middle") + half, whole, whole}, 2, "1+2 4+2"},
		{"a usual one", []string{whole + line(``, "right"), whole + line(`<bar-style>regular</bar-style>`, "right"), whole + line(`<bar-style>none</bar-style>`, "right"), whole}, 2, "1+4"}, {"a sign", []string{whole, whole + line(`<segno/>`, "right"), whole, whole}, 2, "1+2 3+2"}, {"a coda", []string{whole, whole + line(`<bar-style>regular</bar-style><coda/>`, "right"), whole, whole}, 2, "1+2 3+2"}, {"a pause", []string{whole, whole + line(`<fermata/>`, "right"), whole, whole}, 2, "1+2 3+2"},
		{"an ending", []string{whole, whole, line(`<ending/>`, "left") + whole, whole}, 2, "1+2 3+2"}, {"a repeat", []string{whole, whole + line(`<repeat/>`, "right"), whole, whole}, 2, "1+2 3+2"}, {"a pause on the rest", []string{whole, whole, strings.Replace(whole, "</note>", "<notations><fermata/></notations></note>", 1), whole, whole}, 2, "1+2 4+2"}, {"a syllable", []string{whole, whole, strings.Replace(whole, "</note>", "<lyric/></note>", 1), whole, whole}, 2, "1+2 4+2"},
		{"a short bar", []string{whole, whole, half, whole, whole}, 2, "1+2 4+2"}, {"a pickup", []string{whole, whole, `<measure implicit="yes">` + whole, whole, whole}, 2, "1+2 4+2"}, {"bars repeated", []string{whole, whole, `<attributes><measure-style><slash type="start"/></measure-style></attributes>` + whole, `<attributes><measure-style><slash type="stop"/></measure-style></attributes>` + whole, whole}, 2, "1+2 4+2"}, {"another metre's length", []string{whole, whole, half + half + half, whole, whole}, 2, "1+2 4+2"},
	} {
		d := barsOf(t, row.bars...)
		require.NoError(t, DrawBars(d, lengthsOf(len(row.bars)), row.least), row.why)
		var got []string
		for i, m := range d.Part.ChildElements() {
			for _, e := range m.FindElements("attributes/measure-style/multiple-rest") {
				text := string(rune('1'+i)) + "+" + e.Text()
				if musicxml.Attr(e, "use-symbols") == "yes" {
					text += "s"
				}
				got = append(got, text)
			}
			for _, attributes := range m.FindElements("attributes") {
				assert.NotEmpty(t, attributes.ChildElements(), row.why)
			}
		}
		assert.Equal(t, row.want, strings.Join(got, " "), row.why)
		require.NoError(t, d.Settle())
		for i, m := range d.Part.ChildElements() {
			assert.Len(t, d.Timeline.Measures[i].Events, len(m.ChildElements()), "%s: it is laid out", row.why)
		}
	}
}
