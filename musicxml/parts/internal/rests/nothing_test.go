package rests

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/survey"
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
		d := &draft.Draft{Part: doc.Root(), Assignment: assign.Assignment{Silent: silent}, Survey: &survey.Part{Staves: 2}, Timeline: &musicxml.Timeline{}}
		require.NoError(t, LeaveNothing(d))
		text, err := doc.WriteToString()
		require.NoError(t, err)
		assert.Equal(t, want, text)
		assert.Equal(t, map[bool]int{true: 1, false: 2}[silent], d.Survey.Staves)
	}
}

func parsed(t *testing.T, xml string) *etree.Element {
	t.Helper()
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(xml))
	return doc.Root()
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
		assert.Equal(t, row.want, f.changes(parsed(t, `<attributes>`+row.says+`</attributes>`)), row.says)
	}
	for text, want := range map[string]bool{
		`<direction-type><words>x</words></direction-type>`: true, `<direction-type><words print-object="no">x</words></direction-type>`: false, `<sound tempo="60"/>`: false, ``: false,
		`<direction-type><words print-object="no">x</words></direction-type><direction-type><segno/></direction-type>`: true, `<direction-type><words print-object="yes">x</words></direction-type>`: true,
	} {
		assert.Equal(t, want, isSeen(parsed(t, `<direction>`+text+`</direction>`)), text)
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
		{`<note><rest measure="yes"/><duration>3</duration></note>`, 1, false}, {`<forward><duration>4</duration></forward>`, 1, false},
	} {
		timeline, err := musicxml.NewTimeline(parsed(t, `<part><measure><attributes><divisions>1</divisions></attributes>`+row.bar+`</measure></part>`))
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
		{`<attributes><staves>0</staves></attributes>`, 1, 1}, {`<attributes><staves>x</staves></attributes>`, 2, 2}, {`<note><rest/><duration>4</duration><staff>3</staff></note>`, 1, 3},
	} {
		timeline, err := musicxml.NewTimeline(parsed(t, `<part><measure>`+row.bar+`</measure></part>`))
		require.NoError(t, err)
		assert.Equal(t, row.want, stavesIn(&timeline.Measures[0], row.before), row.bar)
	}
}
