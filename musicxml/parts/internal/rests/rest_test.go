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
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/survey"
)

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
