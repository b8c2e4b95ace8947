package rests

import (
	"slices"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/transpose"
)

// A player who has nothing in a movement is lent the bars of another part: how they are
// counted, divided and keyed, on one staff, and nothing that is played or read.
func TestLeaveNothing(t *testing.T) {
	t.Parallel()
	const from = `<part><measure number="1"><print new-system="yes"/><attributes><divisions>2</divisions><key number="2"><fifths>1</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves>` +
		`<part-symbol>brace</part-symbol><instruments>2</instruments><clef number="1"><sign>G</sign></clef><staff-details/><transpose number="1"><chromatic>-2</chromatic></transpose><for-part number="1"/><directive>x</directive><measure-style/></attributes>` +
		`<barline location="left"/><note/><backup/><forward/><direction/><harmony/><figured-bass/><sound/><listening/><bookmark/><link/><grouping/><barline/></measure></part>`
	for silent, want := range map[bool]string{false: from, true: `<part><measure number="1"><print new-system="yes"/><attributes><divisions>2</divisions><key><fifths>1</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time>` +
		`<transpose><chromatic>-2</chromatic></transpose><for-part/></attributes><barline location="left"/><barline/></measure></part>`} {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromString(from))
		d := &draft.Draft{Part: doc.Root(), Assignment: assign.Assignment{Silent: silent}, Survey: &survey.Part{Staves: 2, Source: []transpose.Stretch{{Staff: 1, Measure: 1}, {Staff: 2, Measure: 2}}}, Timeline: &musicxml.Timeline{}}
		require.NoError(t, LeaveNothing(d))
		text, err := doc.WriteToString()
		require.NoError(t, err)
		assert.Equal(t, want, text)
		assert.Equal(t, map[bool]int{true: 1, false: 2}[silent], d.Survey.Staves)
		assert.Equal(t, map[bool]int{true: 1, false: 2}[silent], len(d.Survey.Source))
		assert.Equal(t, 1, d.Survey.Source[0].Measure, "of the first staff")
	}
}

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

// A bar of rest is as it should be with one whole-bar rest a staff, shown, where it belongs
// (MusicXML 4.0, rest).
func TestWrittenBarsOfRest(t *testing.T) {
	t.Parallel()
	const whole = `<note><rest measure="yes"/><duration>4</duration></note>`
	for _, row := range []struct {
		bar    string
		staves int
		want   bool
	}{
		{whole, 1, true}, {whole, 2, false}, {whole + `<backup><duration>4</duration></backup>` + whole, 2, true}, {whole + `<backup><duration>4</duration></backup>` + whole, 1, false}, {`<note><rest/><duration>4</duration></note>`, 1, false},
		{`<note print-object="no"><rest measure="yes"/><duration>4</duration></note>`, 1, false}, {`<note><rest measure="yes"><display-step>B</display-step><display-octave>4</display-octave></rest><duration>4</duration></note>`, 1, false},
		{`<note><rest measure="yes"/><duration>3</duration></note>`, 1, false}, {`<note><rest measure="yes"><display-step>B</display-step></rest><duration>4</duration></note>`, 1, false}, {`<forward><duration>4</duration></forward>`, 1, false},
	} {
		timeline, err := musicxml.NewTimeline(musicxmltest.Element(t, `<part><measure><attributes><divisions>1</divisions></attributes>`+row.bar+`</measure></part>`))
		require.NoError(t, err)
		b := &barOfRest{measure: &timeline.Measures[0], length: musicxml.NewFraction(4, 1), staves: row.staves}
		assert.Equal(t, row.want, b.isWritten(), row.bar)
	}
}

// How long a bar is by its time signature, and on how many staves rests stand (MusicXML 4.0,
// time, staves).
func TestNominalLengths(t *testing.T) {
	t.Parallel()
	f := musicxml.NewFraction
	for _, row := range []struct {
		beats, unit string
		want        musicxml.Fraction
		known       bool
	}{
		{"4", "4", f(4, 1), true}, {"6", "8", f(3, 1), true}, {"3", "2", f(6, 1), true}, {"3+2", "8", f(5, 2), true}, {"2 + 2 + 3", "8", f(7, 2), true}, {"1", "1", f(4, 1), true},
		{"0", "4", f(0, 1), false}, {"4", "0", f(0, 1), false}, {"-1", "4", f(0, 1), false}, {"", "", f(0, 1), false}, {"x", "4", f(0, 1), false}, {"4", "x", f(0, 1), false}, {"3+x", "8", f(0, 1), false},
	} {
		length, known := nominalLength(&musicxml.Measure{Beats: row.beats, BeatType: row.unit})
		assert.Equal(t, []any{row.want, row.known}, []any{length, known}, "%s/%s", row.beats, row.unit)
	}
	for _, row := range []struct {
		bar          string
		before, want int
	}{
		{`<note><rest/><duration>4</duration></note>`, 1, 1}, {`<note><rest/><duration>4</duration></note>`, 2, 2}, {`<attributes><staves>2</staves></attributes>`, 1, 2}, {`<attributes><staves>1</staves></attributes>`, 2, 1},
		{`<attributes><staves>0</staves></attributes>`, 1, 1}, {`<attributes><staves>0</staves></attributes>`, 2, 2}, {`<note><rest/><duration>4</duration><staff>99</staff></note>`, 1, 16}, {`<attributes><staves>99</staves></attributes>`, 1, 16}, {`<attributes><staves>x</staves></attributes>`, 2, 2}, {`<note><rest/><duration>4</duration><staff>3</staff></note>`, 1, 3},
	} {
		timeline, err := musicxml.NewTimeline(musicxmltest.Element(t, `<part><measure>`+row.bar+`</measure></part>`))
		require.NoError(t, err)
		assert.Equal(t, row.want, stavesIn(&timeline.Measures[0], row.before), row.bar)
	}
}

// barsOf is a part of these bars, of four quarter notes and two divisions.
func barsOf(t *testing.T, bars ...string) *draft.Draft {
	t.Helper()
	text := `<part>`
	for i, bar := range bars {
		if i == 0 {
			bar = `<attributes><divisions>2</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>` + bar
		}
		if !strings.HasPrefix(bar, "<measure") {
			bar = `<measure>` + bar
		}
		text += bar + `</measure>`
	}
	part := musicxmltest.Element(t, text+`</part>`)
	timeline, err := musicxml.NewTimeline(part)
	require.NoError(t, err)
	return &draft.Draft{Part: part, Timeline: timeline, Score: &survey.Score{}, Survey: &survey.Part{}}
}

// xmlOf is what stands in the last bar.
func xmlOf(t *testing.T, d *draft.Draft) string {
	t.Helper()
	doc := etree.NewDocumentWithRoot(d.Part.ChildElements()[len(d.Part.ChildElements())-1].Copy())
	text, err := doc.WriteToString()
	require.NoError(t, err)
	_, text, _ = strings.Cut(text, ">")
	return strings.TrimSuffix(text, "</measure>")
}

// lengthsOf are bars of four quarter notes.
func lengthsOf(n int) (lengths []musicxml.Fraction) {
	for range n {
		lengths = append(lengths, musicxml.NewFraction(4, 1))
	}
	return lengths
}

// A bar in which nothing is played gets one whole-bar rest a staff, with its voice, instrument
// and pause; marks stay where they stood (MusicXML 4.0, rest, offset; gehrkens-mnt s.5). What
// cannot be placed beside one rest stays as it is.
func TestWholeBarsOfRest(t *testing.T) {
	t.Parallel()
	const whole, half = `<note><rest measure="yes"/><duration>8</duration><voice>1</voice></note>`, `<note><rest/><duration>4</duration><voice>1</voice><type>half</type></note>`
	rest := func(more string) string {
		return `<note><rest/><duration>8</duration><voice>1</voice>` + more + `</note>`
	}
	words := func(more string) string {
		return `<direction><direction-type><words>x</words></direction-type>` + more + `</direction>`
	}
	const barline, left, middle = `<barline location="right"/>`, `<barline location="left"/>`, `<barline location="middle"/>`
	const key = `<attributes><key><fifths>1</fifths></key></attributes>`
	for _, row := range []struct{ why, bar, want string }{
		{"two rests", half + half, whole}, {"nothing at all", ``, whole}, {"a gap", `<forward><duration>8</duration></forward>`, whole}, {"written already", whole, whole}, {"hidden", `<note print-object="no"><rest measure="yes"/><duration>8</duration><voice>1</voice></note>`, whole},
		{"in another voice", `<note><rest/><duration>8</duration><voice>3</voice></note>`, `<note><rest measure="yes"/><duration>8</duration><voice>3</voice></note>`}, {"in two voices", half + half + `<backup><duration>8</duration></backup><note><rest/><duration>8</duration><voice>2</voice></note>`, whole},
		{"of an instrument", rest(`<instrument id="I"/>`), `<note><rest measure="yes"/><duration>8</duration><instrument id="I"/><voice>1</voice></note>`}, {"of the first instrument", `<note><rest/><duration>4</duration><instrument id="I"/><voice>1</voice></note><note><rest/><duration>4</duration><instrument id="J"/><voice>1</voice></note>`, `<note><rest measure="yes"/><duration>8</duration><instrument id="I"/><voice>1</voice></note>`},
		{"with a pause", half + `<note><rest/><duration>4</duration><voice>1</voice><notations><fermata type="inverted">angled</fermata></notations></note>`, `<note><rest measure="yes"/><duration>8</duration><voice>1</voice><notations><fermata>angled</fermata></notations></note>`}, {"with two pauses", `<note><rest/><duration>4</duration><voice>1</voice><notations><fermata>angled</fermata></notations></note><note><rest/><duration>4</duration><voice>1</voice><notations><fermata>square</fermata></notations></note>`, `<note><rest measure="yes"/><duration>8</duration><voice>1</voice><notations><fermata>angled</fermata></notations></note>`},
		{"rests with all they may have", `<note><rest/><duration>8</duration><instrument id="I"/><voice>1</voice><type>half</type><dot/><time-modification/><stem/><staff>1</staff><notations><tuplet/></notations></note>`, `<note><rest measure="yes"/><duration>8</duration><instrument id="I"/><voice>1</voice></note>`},
		{"with a syllable", rest(`<lyric/>`), rest(`<lyric/>`)}, {"with a slur", rest(`<notations><slur/></notations>`), rest(`<notations><slur/></notations>`)}, {"with a beam", rest(`<beam>begin</beam>`), rest(`<beam>begin</beam>`)},
		{"words before", words("") + half + half, words("") + whole}, {"words between", half + words("") + half, words(`<offset sound="yes">4</offset>`) + whole}, {"words behind", half + half + words(""), whole + words("")}, {"words with an offset", half + words("<offset>2</offset>") + half, words(`<offset sound="yes">6</offset>`) + whole},
		{"a tempo between", half + `<sound tempo="60"/>` + half, `<sound tempo="60"><offset>4</offset></sound>` + whole}, {"a tempo before", `<sound tempo="60"/>` + half + half, `<sound tempo="60"/>` + whole}, {"a mark for listeners between", half + `<listening/>` + half, `<listening/>` + whole},
		{"bar lines", left + half + half + barline, left + whole + barline}, {"one in the middle", half + middle + half, half + middle + half}, {"one behind that is not said to be", half + half + `<barline/>`, whole + `<barline/>`},
		{"attributes before", key + half + half, key + whole}, {"attributes between", half + key + half, half + key + half}, {"attributes behind", half + half + key, whole + key}, {"a comment", half + `<!-- x -->` + half, `<!-- x -->` + whole},
		{"a short bar", half, half}, {"a short bar that is hidden", strings.Replace(half, "<note>", `<note print-object="no">`, 1), half}, {"a pickup", `<measure implicit="yes">` + half + half, half + half}, {"a pickup that is a whole rest", `<measure implicit="yes"><note><rest measure="yes"/><duration>8</duration><voice>1</voice><type>whole</type></note>`, `<note><rest measure="yes"/><duration>8</duration><voice>1</voice><type>whole</type></note>`},
		{"a pickup that has one, in two voices", `<measure implicit="yes">` + whole + `<backup><duration>8</duration></backup><note><rest/><duration>8</duration><voice>2</voice></note>`, whole},
		{"on two staves", `<attributes><staves>2</staves></attributes>` + half + half, `<attributes><staves>2</staves></attributes><note><rest measure="yes"/><duration>8</duration><voice>1</voice><staff>1</staff></note><backup><duration>8</duration></backup><note><rest measure="yes"/><duration>8</duration><voice>5</voice><staff>2</staff></note>`},
		{"another metre", `<attributes><time><beats>3</beats><beat-type>4</beat-type></time></attributes>` + half + half, `<attributes><time><beats>3</beats><beat-type>4</beat-type></time></attributes>` + half + half}, {"no metre that is known", `<attributes><time><senza-misura/></time></attributes>` + half + half, `<attributes><time><senza-misura/></time></attributes>` + whole},
		{"a sign of bars repeated", `<attributes><measure-style><measure-repeat type="start">1</measure-repeat></measure-style></attributes>` + half + half, `<attributes><measure-style><measure-repeat type="start">1</measure-repeat></measure-style></attributes>` + half + half},
	} {
		d := barsOf(t, half+half, row.bar)
		require.NoError(t, Order(d, lengthsOf(2)), row.why)
		assert.Equal(t, row.want, xmlOf(t, d), row.why)
	}
	d := barsOf(t, half, half)
	s := &rester{d, lengthsOf(1)}
	assert.Equal(t, musicxml.NewFraction(4, 1), s.barLength(&d.Timeline.Measures[0]))
	assert.Equal(t, musicxml.NewFraction(2, 1), s.barLength(&d.Timeline.Measures[1]), "nobody fills it")
	d = barsOf(t, half+half, "")
	require.NoError(t, Order(d, make([]musicxml.Fraction, 2)))
	assert.Empty(t, xmlOf(t, d), "a bar without length")
}

// Beside notes a hidden rest is shown where nothing else that is seen fills its time, and one
// that was pushed aside is back where one voice has the staff.
func TestRestsTidied(t *testing.T) {
	t.Parallel()
	const aside = `<display-step>B</display-step><display-octave>4</display-octave>`
	note := func(voice, staff, attributes, what, duration string) string {
		return `<note` + attributes + `>` + what + `<duration>` + duration + `</duration><voice>` + voice + `</voice><staff>` + staff + `</staff></note>`
	}
	const hidden, pitch, back = ` print-object="no"`, `<pitch><step>C</step><octave>5</octave></pitch>`, `<backup><duration>4</duration></backup>`
	sounds := note("1", "1", "", pitch, "4")
	for _, row := range []struct{ why, bar, want string }{
		{"hidden", sounds + note("1", "1", hidden, "<rest/>", "4"), sounds + note("1", "1", "", "<rest/>", "4")}, {"while another plays", sounds + sounds + back + note("2", "1", hidden, "<rest/>", "4"), ""}, {"before another plays", sounds + back + note("2", "1", "", pitch, "4") + note("2", "1", hidden, "<rest/>", "4"), sounds + back + note("2", "1", "", pitch, "4") + note("2", "1", "", "<rest/>", "4")},
		{"beside a hidden note", note("1", "1", "", pitch, "4") + note("1", "1", hidden, pitch, "4") + back + note("2", "1", hidden, "<rest/>", "4"), note("1", "1", "", pitch, "4") + note("1", "1", hidden, pitch, "4") + back + note("2", "1", "", "<rest/>", "4")},
		{"behind and before others", note("1", "1", hidden, "<rest/>", "4") + sounds, note("1", "1", "", "<rest/>", "4") + sounds}, {"beside a grace note", sounds + `<note><grace/>` + pitch + `<voice>1</voice></note>` + note("1", "1", hidden, "<rest/>", "4"), sounds + `<note><grace/>` + pitch + `<voice>1</voice></note>` + note("1", "1", "", "<rest/>", "4")},
		{"beside words", sounds + `<direction><direction-type><words>x</words></direction-type></direction>` + note("1", "1", hidden, "<rest/>", "4"), sounds + `<direction><direction-type><words>x</words></direction-type></direction>` + note("1", "1", "", "<rest/>", "4")},
		{"pushed aside", sounds + note("1", "1", "", "<rest>"+aside+"</rest>", "4"), sounds + note("1", "1", "", "<rest/>", "4")}, {"pushed aside for another", sounds + back + note("2", "1", "", "<rest>"+aside+"</rest>", "4"), ""}, {"pushed aside for a hidden one", sounds + note("1", "1", "", "<rest>"+aside+"</rest>", "4") + `<backup><duration>8</duration></backup>` + note("2", "1", hidden, pitch, "8"), sounds + note("1", "1", "", "<rest/>", "4") + `<backup><duration>8</duration></backup>` + note("2", "1", hidden, pitch, "8")},
		{"another voice on another staff", sounds + note("1", "1", "", "<rest>"+aside+"</rest>", "4") + `<backup><duration>8</duration></backup>` + note("5", "2", "", pitch, "8"), sounds + note("1", "1", "", "<rest/>", "4") + `<backup><duration>8</duration></backup>` + note("5", "2", "", pitch, "8")},
		{"both voices below", note("5", "2", "", pitch, "4") + back + note("6", "2", "", "<rest>"+aside+"</rest>", "4") + back + note("1", "1", "", "<rest>"+aside+"</rest>", "4"), note("5", "2", "", pitch, "4") + back + note("6", "2", "", "<rest>"+aside+"</rest>", "4") + back + note("1", "1", "", "<rest/>", "4")},
	} {
		d := barsOf(t, sounds, row.bar)
		require.NoError(t, Order(d, lengthsOf(2)), row.why)
		want := row.want
		if want == "" {
			want = row.bar
		}
		assert.Equal(t, want, xmlOf(t, d), row.why)
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

// Who has nothing to play is told so, where others play; on several staves on the first.
func TestTacetSaid(t *testing.T) {
	t.Parallel()
	const rest, note = `<note><rest measure="yes"/><duration>8</duration></note>`, `<note><pitch><step>C</step><octave>5</octave></pitch><duration>8</duration></note>`
	said := func(staff string) string {
		return `<direction placement="above"><direction-type><words font-weight="bold">Tacet</words></direction-type>` + staff + `</direction>`
	}
	for _, row := range []struct {
		why    string
		bars   []string
		staves int
		plays  bool
		want   string
		tacet  bool
	}{
		{"rests", []string{rest, rest}, 1, true, said(""), true}, {"on two staves", []string{rest}, 2, true, said("<staff>1</staff>"), true}, {"a note", []string{rest, note}, 1, true, "", false}, {"nobody plays", []string{rest}, 1, false, "", false}, {"slashes", []string{rest, `<attributes><measure-style><slash type="start"/></measure-style></attributes>` + rest}, 1, true, "", false}, {"no bars", nil, 1, true, "", true},
	} {
		d := barsOf(t, row.bars...)
		d.Staves, d.Score.Parts = row.staves, make([]survey.Part, 1)
		if row.plays {
			d.Score.Parts[0].Notes = 1
		}
		require.NoError(t, MarkTacet(d), row.why)
		text := ""
		for _, e := range d.Part.FindElements("measure[1]/direction") {
			more, err := etree.NewDocumentWithRoot(e.Copy()).WriteToString()
			require.NoError(t, err)
			text += more
		}
		assert.Equal(t, row.want, text, row.why)
		assert.Equal(t, row.tacet, d.Report.Tacet, row.why)
	}
}

// A staff that the score hides is seen, unless it has nothing to play beside one that is
// (MusicXML 4.0, staff-details, print-object).
func TestShownStaves(t *testing.T) {
	t.Parallel()
	view := func(number, more string) string {
		return `<attributes><staff-details` + number + more + `/></attributes>`
	}
	const hide, second = ` print-object="no"`, ` number="2"`
	note := func(staff string) string {
		return `<note><pitch><step>C</step><octave>5</octave></pitch><duration>8</duration><staff>` + staff + `</staff></note>`
	}
	rest := func(staff string) string {
		return strings.Replace(note(staff), `<pitch><step>C</step><octave>5</octave></pitch>`, `<rest/>`, 1)
	}
	const back = `<backup><duration>8</duration></backup>`
	for _, row := range []struct {
		why    string
		bars   []string
		staves int
		want   string // of each <staff-details>: its staff and print-object
	}{
		{"the only one", []string{view("", hide) + rest("1"), note("1")}, 1, ""}, {"the second, silent", []string{view(second, hide) + note("1") + back + rest("2"), view(second, ` print-object="yes"`) + note("1") + back + note("2")}, 2, "2no 2yes"}, {"the second, playing", []string{view(second, hide) + note("1") + back + note("2")}, 2, ""}, {"both", []string{view("", hide) + view(second, hide) + note("1")}, 2, ""},
		{"until it plays", []string{view(second, hide) + note("1"), view(second, "") + note("1") + back + note("2")}, 2, "2no 2yes"}, {"it plays later without a word", []string{view(second, hide) + note("1"), note("2")}, 2, ""}, {"with frets", []string{view("", hide+` show-frets="letters"`) + note("1")}, 1, "-"}, {"with lines", []string{`<attributes><staff-details print-object="no"><staff-lines>1</staff-lines></staff-details></attributes>` + note("1")}, 1, "-"},
		{"seen all the time", []string{view("", "") + note("1")}, 1, ""}, {"a note without a staff", []string{view("", hide) + `<note><pitch><step>C</step><octave>5</octave></pitch><duration>8</duration></note>`}, 2, ""},
	} {
		d := barsOf(t, row.bars...)
		d.Staves = row.staves
		showStaves(d)
		var got []string
		for _, e := range d.Part.FindElements("//staff-details") {
			got = append(got, musicxml.Attr(e, "number")+e.SelectAttrValue("print-object", "-"))
		}
		assert.Equal(t, row.want, strings.Join(got, " "), row.why)
	}
}

// A hidden rest is needed no more where something is printed while it lasts: another voice's note
// or rest, whatever words stand between; grace notes last no time.
func TestFilled(t *testing.T) {
	t.Parallel()
	for music, want := range map[string]bool{
		`x:w / C5:w`: true, `x:w / "dolce" C5:w`: true, `x:w / R`: true, `x:w / x:h C5:h`: true, `x:w / x:w`: false, `x:h C5:h`: false, `x:h C5:h / _:h D5:h`: false, `x:w / x:h g!D5:e x:h`: false, `x:q C5:hd / D5:w`: true,
	} {
		timeline, err := musicxml.NewTimeline(shorthand.Part(t, music))
		require.NoError(t, err)
		m := &timeline.Measures[0]
		first := slices.IndexFunc(m.Events, func(ev musicxml.Event) bool { return ev.Rest })
		assert.Equal(t, want, filled(m, &m.Events[first]), music)
	}
}
