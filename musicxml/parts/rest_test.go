package parts_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml/parts"
)

// What breaks a multi-bar rest, each in the second of four empty bars, in another
// part or in its own: notation-rules section 10; what only sounds or is not seen
// does not. want is the runs, as in "1-1 2-3".
func TestWhatBreaksMultiBarRests(t *testing.T) {
	key := `<attributes><key><fifths>2</fifths></key></attributes>`
	sameKey := `<attributes><key><fifths>0</fifths></key></attributes>`
	tests := []struct {
		name, why string
		top, own  string // put before bar 2's music
		end       string // put after bar 2's own rest
		want      string
	}{
		{"nothing", "four bars are one rest", "", "", "", "1 4/4 -4-"},
		{"a rehearsal mark", "", direction("", dtype("<rehearsal>A</rehearsal>"), ""), "", "", "1 4/4\n2 -3- [A]"},
		{"a tempo", "", words("Adagio"), "", "", "1 4/4\n2 -3- \"Adagio\""},
		{"a metronome mark", "", direction("", dtype("<metronome><beat-unit>half</beat-unit><per-minute>60</per-minute></metronome>"), ""), "", "", "1 4/4\n2 -3- metronome"},
		{"a segno", "", direction("", dtype("<segno/>"), ""), "", "", "1 4/4\n2 -3- segno"},
		{"a tempo inside the bar", "that bar stands alone", half + words("rit.") + half, "", "", "1 4/4\n2 \"rit.\" @2\n3 -2-"},
		{"a mark at the end of the bar", "the rest ends there", "", "", words("Fine"), "1 4/4 -2-\n2 \"Fine\"\n3 -2-"},
		{"a playback tempo", "it is not seen", `<sound tempo="80"/>`, "", "", "1 4/4 -4-\n2 sound(tempo=80)"},
		{"a key", "", "", key, "", "1 4/4\n2 -3-"},
		{"the same key again", "nothing changes", "", sameKey, "", "1 4/4 -4-"},
		{"a clef", "", "", `<attributes><clef><sign>F</sign><line>4</line></clef></attributes>`, "", "1 4/4\n2 -3-"},
		{"a clef at the end of the bar", "the new clef stands before the next bar", "", "", `<attributes><clef><sign>F</sign><line>4</line></clef></attributes>`, "1 4/4 -2-\n3 -2-"},
		{"the player's own words", "so a mute that goes on is seen in its bar", "", words("con sord."), "", "1 4/4\n2 -3- \"con sord.\""},
		{"a double bar", "", "", "", `<barline location="right"><bar-style>light-light</bar-style></barline>`, "1 4/4 -2-\n2 ||\n3 -2-"},
		{"a dashed line inside the bar", "that bar stands alone", half + `<barline location="middle"><bar-style>dashed</bar-style></barline>` + half, "", "", "1 4/4\n2 middle dashed\n3 -2-"},
		{"a repeat at the left", "", "", `<barline location="left"><bar-style>heavy-light</bar-style><repeat direction="forward"/></barline>`, "", "1 4/4\n2 left ||| |: -3-"},
		{"a bar line that is not drawn", "it divides nothing", "", "", `<barline location="right"><bar-style>none</bar-style></barline>`, "1 4/4 -4-\n2 none"},
		{"a pause", "it is shown in its own bar (harris s.50)", strings.Replace(whole, "</note>", "<notations><fermata/></notations></note>", 1), "", "", "1 4/4\n2 fermata\n3 -2-"},
		{"a general pause", "it concerns every part (gehrkens-mnt s.43)", words("G.P."), "", "", "1 4/4\n2 -3- \"G.P.\""},
		{"a chord symbol", "the player has something to read", "", `<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>`, "", "1 4/4\n3 -2-"},
		{"a name beside the staff", "the player changes instrument", "", `<print><part-name-display><display-text>Piccolo</display-text></part-name-display></print>`, "", "1 4/4\n2 -3-"},
		{"a repeated bar", "what is in it is not what is printed", "", `<attributes><measure-style><measure-repeat type="start">1</measure-repeat></measure-style></attributes>`, `<attributes><measure-style><measure-repeat type="stop"/></measure-style></attributes>`, "1 4/4\n3 -2-"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			top := tt.top
			if !strings.Contains(top, "<note>") {
				top += whole
			}
			own := []string{wholeBar, tt.own + wholeBar + tt.end, wholeBar, wholeBar, whole}
			score := miniScore(t, miniPart{"Violin", []string{whole, top, whole, whole, whole}}, miniPart{"Someone", own})
			assert.Equal(t, tt.want, roadText(makeMini(t, score, 1, parts.DefaultOptions()).Document), tt.why)
		})
	}
}

// Two rests that fill a bar are one rest for the bar, also where its beats are a sum; where
// they do not, they stay; a metre that says no length leaves it to the bar (MusicXML 4.0, beats: "3+2").
func TestRestsThatFillABar(t *testing.T) {
	t.Parallel()
	rests := func(durations ...string) (text string) {
		for _, d := range durations {
			text += `<note><rest/><duration>` + d + `</duration><voice>1</voice></note>`
		}
		return text
	}
	for _, row := range []struct {
		beats, unit string
		bar         string
		want        int
	}{
		{"3+2", "4", rests("3", "2"), 1}, {"5", "4", rests("3", "2"), 1}, {"3 + 1", "4", rests("3", "1"), 1}, {"3+3", "4", rests("3", "2"), 2}, {"4", "4", rests("2", "1"), 2}, {"4", "2", rests("4", "4"), 1}, {"0", "4", rests("2", "2"), 1}, {"4", "x", rests("2", "2"), 1},
	} {
		metre := strings.NewReplacer("<beats>4<", "<beats>"+row.beats+"<", "<beat-type>4<", "<beat-type>"+row.unit+"<").Replace(opening)
		score := miniScore(t, miniPart{"Flute", []string{metre + row.bar}})
		assert.Len(t, makeMini(t, score, 0, parts.DefaultOptions()).Document.FindElements("//note"), row.want, "%s/%s", row.beats, row.unit)
	}
}

// A bar that the score does not count is no bar of a multi-bar rest (MusicXML 4.0,
// implicit), nor is one with something at its rest.
func TestBarsThatAreNotCounted(t *testing.T) {
	t.Parallel()
	text := miniText(miniPart{"Flute", []string{wholeBar, wholeBar, wholeBar, wholeBar, wholeBar, whole}})
	for _, row := range []struct{ from, to, want string }{
		{`<measure number="3">`, `<measure number="3" implicit="yes">`, "1 4/4 -2-\n4 -2-"},
		{`<measure number="3">`, `<measure number="3" implicit="no">`, "1 4/4 -5-"},
		{`<measure number="2">` + wholeBar, `<measure number="2">` + strings.Replace(wholeBar, "</note>", "<notations><fermata/></notations></note>", 1), "1 4/4\n2 fermata\n3 -3-"},
		{`<measure number="2">` + wholeBar, `<measure number="2">` + strings.Replace(wholeBar, "</note>", "<lyric><text>x</text></lyric></note>", 1), "1 4/4\n3 -3-"},
	} {
		score := scoreFrom(t, strings.Replace(text, row.from, row.to, 1))
		assert.Equal(t, row.want, roadText(makeMini(t, score, 0, parts.DefaultOptions()).Document), row.to)
	}
}

// How many empty bars become a rest is the player's choice; 0 is never.
func TestRestBarsOption(t *testing.T) {
	t.Parallel()
	for bars, want := range map[int]string{
		0: "1 4/4", 1: "1 4/4 -1-\n3 -3-", 2: "1 4/4\n3 -3-", 3: "1 4/4\n3 -3-", 4: "1 4/4",
	} {
		old := strings.Replace(opening, "</attributes>", "<measure-style><multiple-rest>1</multiple-rest></measure-style></attributes>", 1)
		score := miniScore(t, miniPart{"Flute", []string{old + wholeBar, whole, wholeBar, wholeBar, wholeBar}})
		o := parts.DefaultOptions()
		o.RestBars = bars
		assert.Equal(t, want, roadText(makeMini(t, score, 0, o).Document), "rest-bars %d", bars)
	}
}

// The old bar symbols serve two to four bars (gehrkens-mnt s.42).
func TestOldRestSymbolsStay(t *testing.T) {
	t.Parallel()
	old := strings.Replace(opening, "</attributes>", `<measure-style><multiple-rest use-symbols="yes">2</multiple-rest></measure-style></attributes>`, 1)
	score := miniScore(t, miniPart{"Flute", []string{old + wholeBar, wholeBar, whole, wholeBar, wholeBar, wholeBar, wholeBar, wholeBar}})
	rests := makeMini(t, score, 0, parts.DefaultOptions()).Document.FindElements("//multiple-rest")
	assert.Equal(t, "yes", rests[0].SelectAttrValue("use-symbols", ""), "two bars")
	assert.Equal(t, "", rests[1].SelectAttrValue("use-symbols", ""), "five bars")
}

// Pickups and short bars are no bars of a multi-bar rest; marks in a bar of several
// rests keep their beat when the rests become one.
func TestShortBarsAndBrokenRests(t *testing.T) {
	t.Parallel()
	rest := func(duration, kind string) string {
		return `<note><rest/><duration>` + duration + `</duration><voice>1</voice><type>` + kind + `</type></note>`
	}
	left := `<barline location="left"><bar-style>heavy-light</bar-style><repeat direction="forward"/></barline>`
	right := `<barline location="right"><bar-style>light-heavy</bar-style><repeat direction="backward"/></barline>`
	score := miniScore(t, miniPart{"Violin", []string{quarter, whole, half + words("rit.") + half, whole, whole}},
		miniPart{"Flute", []string{rest("1", "quarter"), rest("2", "half") + words("Attenti") + rest("2", "half"), left + rest("2", "half") + rest("2", "half") + right, wholeBar, whole}})
	sheet := makeMini(t, score, 1, parts.DefaultOptions())
	assert.Equal(t, "1 4/4\n2 \"Attenti\" @2\n3 left ||| |: \"rit.\" @2 ||| :|", roadText(sheet.Document))
	assert.Equal(t, "quarter", sheet.Document.FindElement("//measure[1]/note/type").Text(), "a pickup keeps its rest")
	for _, bar := range []string{"2", "3"} {
		assert.Len(t, sheet.Document.FindElements("//measure[@number='"+bar+"']/note"), 1, "one whole-bar rest in bar %s", bar)
	}
}

// A part silent all through: a sheet that says so, or none.
func TestTacet(t *testing.T) {
	t.Parallel()
	score := miniScore(t, miniPart{"Violin", []string{whole, whole}}, miniPart{"Flute", []string{wholeBar, wholeBar}})
	o := parts.DefaultOptions()
	sheet := makeMini(t, score, 1, o)
	assert.True(t, sheet.Report.Tacet)
	assert.Equal(t, `1 4/4 -2- "Tacet"`, roadText(sheet.Document))
	o.Tacet = parts.TacetSkip
	sheet = makeMini(t, score, 1, o)
	assert.True(t, sheet.Report.Tacet)
	assert.Nil(t, sheet.Document)
	assert.False(t, makeMini(t, score, 0, o).Report.Tacet)
}
