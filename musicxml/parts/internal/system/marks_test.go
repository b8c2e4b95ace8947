package system

import (
	"fmt"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/parts/plan"
)

// added makes the last part of a small score as far as what all parts share: its bars, each
// note as n and its divisions with its notations, and what is warned of.
func added(t *testing.T, music ...string) (string, []musicxml.Warning) {
	t.Helper()
	entries := make([]shorthand.Entry, len(music))
	for i := range music {
		entries[i] = shorthand.Entry{Music: music[i]}
	}
	score, err := musicxml.Read(shorthand.Score(t, entries...), musicxml.ReadOptions{})
	require.NoError(t, err)
	surveyed := survey.NewScore(score, nil, survey.Auto)
	all := make([]*PartMarks, len(music))
	for i := range music {
		var slabs musicxml.Slabs
		part, err := score.ReadPart(i, &slabs)
		require.NoError(t, err)
		timeline, err := musicxml.NewTimeline(part)
		require.NoError(t, err)
		surveyed.Parts[i], err = surveyed.Read(i, timeline)
		require.NoError(t, err)
		all[i] = Gather(timeline, glossary(t), false)
	}
	d := draft.New(surveyed, assign.Assignment{Assignment: plan.Assignment{Part: len(music) - 1}}, new(musicxml.Slabs), new(musicxml.Timeline))
	d.Staves = d.Survey.Staves
	require.NoError(t, d.ReadWhole())
	require.NoError(t, Join(surveyed, all).Add(d, glossary(t)))
	require.NoError(t, d.Settle())
	fresh, err := musicxml.NewTimeline(d.Part)
	require.NoError(t, err)
	require.Equal(t, fresh.Measures, d.Timeline.Measures)
	var bars []string
	for _, m := range musicxml.Children(d.Part, "measure") {
		var elements []string
		for _, e := range m.ChildElements() {
			elements = append(elements, elementText(t, e))
		}
		bars = append(bars, strings.Join(elements, " "))
	}
	text := strings.Join(bars, " | ")
	text = strings.Replace(text, `<print><measure-numbering multiple-rest-always="yes" multiple-rest-range="yes">system</measure-numbering></print> `, "", 1)
	for _, staves := range []string{"", "<staves>2</staves>"} {
		text = strings.Replace(text, `<attributes><divisions>24</divisions><time><beats>4</beats><beat-type>4</beat-type></time>`+staves+`</attributes> `, "", 1)
	}
	return text, d.Report.Warnings
}

func elementText(t *testing.T, e *etree.Element) string {
	t.Helper()
	if e.Tag == "note" {
		text := "n" + musicxml.ChildText(e, "duration")
		for _, n := range musicxml.Children(e, "notations") {
			text += elementText(t, n)
		}
		return text
	}
	doc := etree.NewDocument()
	doc.SetRoot(e.Copy())
	doc.Unindent()
	text, err := doc.WriteToString()
	require.NoError(t, err)
	return strings.TrimSpace(text)
}

func glossary(t *testing.T) *lexicon.Glossary {
	t.Helper()
	words, err := lexicon.Load()
	require.NoError(t, err)
	return lexicon.NewGlossary(words)
}

const (
	rit     = `<direction><direction-type><words>rit.</words></direction-type></direction>`
	ritLine = `<direction placement="below"><direction-type><words>rit.</words></direction-type><direction-type><dashes type="start"/></direction-type></direction>`
	lineEnd = `<direction><direction-type><dashes type="stop"/></direction-type></direction>`
	fermata = `<notations><fermata/></notations>`
	afterIt = `<notations><articulations><caesura/></articulations></notations>`
	twoFour = `<attributes><time><beats>2</beats><beat-type>4</beat-type></time></attributes>`
)

// What all parts share stands in each of them once, at its time; where nothing of the part begins
// there, before it, with the way to its place in <offset> (24 divisions a quarter note) or by
// turning the time back (MusicXML 4.0, offset, backup).
func TestMarksAdded(t *testing.T) {
	t.Parallel()
	const top, q4 = `E5 E5 E5 E5`, "n24 n24 n24 n24"
	const signed = `<sound tempo="60"/>`
	for _, row := range []struct {
		why   string
		music []string
		want  string
	}{
		{"at a note", []string{`E5 E5 "rit." E5 E5`, top}, "n24 n24 " + rit + " n24 n24"},
		{"inside a note", []string{`E5 E5 "rit." E5 E5`, "E5:w"}, strings.Replace(rit, "</direction>", `<offset sound="yes">48</offset></direction>`, 1) + " n96"},
		{"at the end of the bar", []string{`E5 E5 E5 E5 "rit."`, top}, q4 + " " + rit},
		{"printed elsewhere than it stands", []string{strings.Replace(` `+rit+` `, "</direction> ", "<offset>24</offset></direction> ", 1) + top, top}, strings.Replace(rit, "</direction>", `<offset>24</offset></direction>`, 1) + " " + q4},
		{"printed there, inside a note", []string{strings.Replace(` E5 `+rit+` `, "</direction> ", "<offset>24</offset></direction> ", 1) + "E5 E5 E5", "E5:h E5:h"}, strings.Replace(rit, "</direction>", `<offset sound="yes">48</offset></direction>`, 1) + " n48 n48"},
		{"its own nearer", []string{`E5 E5 "rit." E5 E5`, `E5 "rit." E5 E5 E5`}, "n24 " + rit + " n24 n24 n24"},
		{"a playback tempo inside a note", []string{`E5 E5 <tempo 60> E5 E5`, "E5:w"}, `<sound tempo="60"><offset>48</offset></sound> n96`},
		{"in a bar that the part has not", []string{top + ` | "rit." ` + top, top}, q4},
		{"over two staves", []string{`"rit." ` + top, "E5 E5 E5 E5 // C3:w"}, strings.Replace(rit, "</direction>", `<staff>1</staff></direction>`, 1) + " " + q4 + " <backup><duration>96</duration></backup> n96"},
		{"a chord symbol over two staves", []string{` <harmony system="only-top"><root><root-step>C</root-step></root><kind>major</kind></harmony> ` + top, "E5 E5 E5 E5 // C3:w"},
			`<harmony><root><root-step>C</root-step></root><kind>major</kind><staff>1</staff></harmony> ` + q4 + " <backup><duration>96</duration></backup> n96"},
		{"a chord symbol inside a note", []string{`E5 <harmony system="only-top"><root><root-step>C</root-step></root><kind>major</kind></harmony> E5 E5 E5`, "E5:w"}, `<harmony><root><root-step>C</root-step></root><kind>major</kind><offset>24</offset></harmony> n96`},
		{"the part's own chord symbol", []string{` <harmony system="only-top"><root><root-step>C</root-step></root><kind>major</kind></harmony> ` + top, ` <harmony system="also-top"><root><root-step>D</root-step></root><kind>major</kind></harmony> ` + top},
			`<harmony><root><root-step>D</root-step></root><kind>major</kind></harmony> ` + q4},
		{"its own words of the system", []string{top, ` <direction system="also-top"><direction-type><words>x</words></direction-type></direction> ` + top}, `<direction><direction-type><words>x</words></direction-type></direction> ` + q4},
		{"a line", []string{` ` + ritLine + ` ` + top + ` | E5 E5 ` + lineEnd + ` E5 E5`, top + " | E5:w"}, strings.Replace(ritLine, `"start"`, `"start" number="1"`, 1) + " " + q4 + ` | <direction placement="below"><direction-type><dashes type="stop" number="1"/></direction-type><offset sound="yes">48</offset></direction> n96`},
		{"a line over two staves", []string{` ` + ritLine + ` ` + top + ` ` + lineEnd, "E5:w // C3:w"}, strings.NewReplacer(`"start"`, `"start" number="1"`, "</direction>", "<staff>1</staff></direction>").Replace(ritLine) +
			` n96 <direction placement="below"><direction-type><dashes type="stop" number="1"/></direction-type><staff>1</staff></direction> <backup><duration>96</duration></backup> n96`},
		{"a line that goes further than the part", []string{` ` + ritLine + ` ` + top + ` | E5 E5 ` + lineEnd + ` E5 E5`, top}, strings.Replace(ritLine, `<direction-type><dashes type="start"/></direction-type>`, "", 1) + " " + q4},
		{"a line beside one of the part's", []string{` ` + ritLine + ` ` + top + ` ` + lineEnd, ` <direction><direction-type><dashes type="start"/></direction-type></direction> ` + top + ` ` + lineEnd},
			strings.Replace(ritLine, `"start"`, `"start" number="2"`, 1) + ` <direction><direction-type><dashes type="start"/></direction-type></direction> ` + q4 + ` <direction placement="below"><direction-type><dashes type="stop" number="2"/></direction-type></direction> ` + lineEnd},
		{"two lines", []string{` ` + ritLine + ` E5 E5 ` + lineEnd + ` ` + ritLine + ` E5 E5 ` + lineEnd, "E5:h E5:h"}, strings.Replace(ritLine, `"start"`, `"start" number="1"`, 1) + ` n48 <direction placement="below"><direction-type><dashes type="stop" number="1"/></direction-type></direction> ` +
			strings.Replace(ritLine, `"start"`, `"start" number="2"`, 1) + ` n48 <direction placement="below"><direction-type><dashes type="stop" number="2"/></direction-type></direction>`},
		{"a tempo of which the part plays the half", []string{` <direction><direction-type><words>rit.</words></direction-type>` + signed + `</direction> ` + top, `"rit." ` + top}, signed + ` ` + rit + " " + q4},
		{"a bar line in the middle", []string{`E5 E5 <barline location="middle"><bar-style>dashed</bar-style></barline> E5 E5`, "E5:h E5:h"}, `n48 <barline location="middle"><bar-style>dashed</bar-style></barline> n48`},
		{"inside a note", []string{`E5 E5 <barline location="middle"><bar-style>dashed</bar-style></barline> E5 E5`, "E5:w"}, `n96 <backup><duration>48</duration></backup> <barline location="middle"><bar-style>dashed</bar-style></barline> <forward><duration>48</duration></forward>`},
		{"the part's own there, and one elsewhere", []string{`E5 <barline location="middle"><bar-style>dashed</bar-style></barline> E5 E5 E5`, `E5 <barline location="middle"><bar-style>dotted</bar-style></barline> E5 <barline location="middle"><bar-style>dotted</bar-style></barline> E5 E5`},
			`n24 <barline location="middle"><bar-style>dotted</bar-style></barline> n24 <barline location="middle"><bar-style>dotted</bar-style></barline> n24 n24`},
		{"the part's own elsewhere", []string{`E5 E5 <barline location="middle"><bar-style>dashed</bar-style></barline> E5 E5`, `E5 <barline location="middle"><bar-style>dotted</bar-style></barline> E5 E5 E5`},
			`n24 <barline location="middle"><bar-style>dotted</bar-style></barline> n24 <barline location="middle"><bar-style>dashed</bar-style></barline> n24 n24`},
		{"in the order of time", []string{`E5 E5 <barline location="middle"><bar-style>dashed</bar-style></barline> E5 E5`, `E5 <barline location="middle"><bar-style>dotted</bar-style></barline> E5 E5 E5`, "E5:w"},
			`n96 <backup><duration>72</duration></backup> <barline location="middle"><bar-style>dotted</bar-style></barline> <forward><duration>72</duration></forward> <backup><duration>48</duration></backup> <barline location="middle"><bar-style>dashed</bar-style></barline> <forward><duration>48</duration></forward>`},
		{"what several parts say of one bar line", []string{`E5:w <barline><bar-style>light-light</bar-style></barline>`, `E5:w <barline><bar-style>light-heavy</bar-style><repeat direction="backward"/></barline>`, "E5:w"}, `n96 <barline><bar-style>light-heavy</bar-style><repeat direction="backward"/></barline>`},
		{"bar lines left and right", []string{`E5:w <barline location="right"><repeat direction="backward"/></barline> | <barline location="left"><bar-style>heavy-light</bar-style></barline> E5:w`, "E5:w | R"},
			`n96 <barline location="right"><repeat direction="backward"/></barline> | <barline location="left"><bar-style>heavy-light</bar-style></barline> n96`},
		{"no repeat is added on the other side", []string{`E5:w <barline location="right"><repeat direction="backward"/></barline>`, `<barline location="left"><repeat direction="forward"/></barline> E5:w`},
			`<barline location="left"><repeat direction="forward"/></barline> n96 <barline location="right"><repeat direction="backward"/></barline>`},
		{"a bar line in a bar that the part has not", []string{`E5:w | E5:w <barline><bar-style>light-heavy</bar-style></barline>`, "E5:w"}, "n96"},
		{"an ending of the system", []string{"E5:w", `E5:w <barline><ending number="1" type="stop" system="also-top"/></barline>`}, `n96 <barline><ending number="1" type="stop"/></barline>`},
		{"signs on a bar line", []string{`E5:w <barline><segno/></barline> | E5:w <barline><coda/></barline> | E5:w <barline><fermata/></barline> | E5:w <barline><ending number="1" type="stop"/></barline>`, "E5:w | E5:w | E5:w | E5:w"},
			`n96 <barline><segno/></barline> | n96 <barline><coda/></barline> | n96 <barline><fermata/></barline> | n96 <barline><ending number="1" type="stop"/></barline>`},
		{"words in the order of time", []string{`E5 E5 "rit." E5 E5`, `E5 "accel." E5 E5 E5`, "E5:w"}, strings.NewReplacer("</direction>", `<offset sound="yes">24</offset></direction>`, "rit", "accel").Replace(rit) + " " + strings.Replace(rit, "</direction>", `<offset sound="yes">48</offset></direction>`, 1) + " n96"},
		{"a symbol of the system", []string{` <direction system="only-top"><direction-type><symbol>x</symbol></direction-type></direction> ` + top, top}, `<direction><direction-type><symbol>x</symbol></direction-type></direction> ` + q4},
		{"words and a symbol", []string{` <direction><direction-type><symbol>x</symbol><words>rit.</words></direction-type><direction-type/></direction> ` + top, top}, `<direction><direction-type><symbol>x</symbol><words>rit.</words></direction-type></direction> ` + q4},
		{"letters at one place", []string{` <direction><direction-type><rehearsal>A</rehearsal></direction-type></direction> ` + top, ` <direction><direction-type><rehearsal>B</rehearsal></direction-type></direction> ` + top},
			`<direction><direction-type><rehearsal>A</rehearsal></direction-type></direction> <direction><direction-type><rehearsal>B</rehearsal></direction-type></direction> ` + q4},
		{"jumps in another order", []string{`<sound coda="a" dacapo="yes"/> ` + top, `<sound dacapo="yes" coda="a"/> ` + top}, `<sound dacapo="yes" coda="a"/> ` + q4},
		{"a chord symbol where the part has one of its own", []string{` <harmony system="only-top"><root><root-step>C</root-step></root><kind>major</kind></harmony> ` + top, ` <harmony><root><root-step>D</root-step></root><kind>major</kind></harmony> ` + top}, `<harmony><root><root-step>D</root-step></root><kind>major</kind></harmony> ` + q4},
		{"the end of a line beside other words", []string{` ` + ritLine + ` E5 E5 <direction><direction-type><words>a tempo</words></direction-type><direction-type><dashes type="stop"/></direction-type></direction> E5 E5`, top}, strings.Replace(ritLine, `"start"`, `"start" number="1"`, 1) + ` n24 n24 <direction placement="below"><direction-type><dashes type="stop" number="1"/></direction-type></direction> ` + strings.Replace(rit, "rit.", "a tempo", 1) + ` n24 n24`},
		{"two lines that start together", []string{` ` + strings.Replace(ritLine, "</direction>", `<direction-type><bracket type="start" line-end="none"/></direction-type></direction>`, 1) + ` E5 E5 ` + lineEnd + ` E5 E5 <direction><direction-type><bracket type="stop" line-end="none"/></direction-type></direction>`, top},
			strings.Replace(ritLine, `"start"`, `"start" number="1"`, 1) + ` n24 n24 <direction placement="below"><direction-type><dashes type="stop" number="1"/></direction-type></direction> n24 n24`},
		{"a line in a direction of its own", []string{`"rit." <direction><direction-type id="x"><dashes type="start" id="y"/></direction-type></direction> E5:h ` + lineEnd + ` E5:h`, "E5:h E5:h"}, strings.NewReplacer(` placement="below"`, "", `"start"`, `"start" number="1"`).Replace(ritLine) + ` n48 ` + strings.Replace(lineEnd, `"stop"`, `"stop" number="1"`, 1) + ` n48`},
		{"a line that never stops", []string{` ` + ritLine + ` ` + top, top}, strings.Replace(ritLine, `<direction-type><dashes type="start"/></direction-type>`, "", 1) + " " + q4},
		{"a tempo beside words for another part's head", []string{"E5:w", ` <direction><direction-type><words>Trio</words></direction-type><direction-type><rehearsal>A</rehearsal></direction-type></direction> E5:w`, "E5:w"}, `<direction><direction-type><rehearsal>A</rehearsal></direction-type></direction> n96`},
		{"two pauses in one rest", []string{"E5? E5 E5? E5", "r:w"}, "n96" + fermata}, {"a pause that the part has and one more", []string{"E5? E5 E5? E5", "E5? r r:h"}, "n24" + fermata + " n24 n48" + fermata},
		{"a break that the part has and one more", []string{"E5«<articulations><caesura/></articulations>» E5 E5«<articulations><caesura/></articulations>» E5", "E5«<articulations><caesura/></articulations>» r E5 E5"}, "n24" + afterIt + " n24 n24" + afterIt + " n24"},
		{"a pause and a break further on", []string{"E5:w | E5:h? E5:h«<articulations><caesura/></articulations>»", "E5:w | E5:h E5:h"}, "n96 | n48" + fermata + " n48" + afterIt},
		{"a pause on a rest", []string{"E5? E5 E5 E5", "r:w"}, "n96" + fermata}, {"on a held note", []string{"E5:w?", "E5:w"}, "n96" + fermata}, {"the part has it", []string{"E5:h E5:h?", "E5:w?"}, "n96" + fermata},
		{"the part has it on the bar line", []string{"E5:w?", "E5:w <barline><fermata/></barline>"}, "n96 <barline><fermata/></barline>"},
		{"one in the middle and the part's on the bar line", []string{"E5:h? E5:h", "r:w <barline><fermata/></barline>"}, "n96" + fermata + " <barline><fermata/></barline>"},
		{"the part's on the left bar line", []string{"E5:w?", "<barline location=\"left\"><fermata/></barline> r:w"}, "<barline location=\"left\"><fermata/></barline> n96" + fermata},
		{"a pause under the staff", []string{`E5:w«<fermata·type="inverted"/>»`, "r:w"}, "n96" + fermata}, {"a pause in a bar that the part has not", []string{"E5:w | E5:w?", "r:w"}, "n96"},
		{"two parts pause at one place", []string{"E5:w?", "E5:h E5:h?", "r:h r:h"}, "n48 n48" + fermata},
		{"a break", []string{"E5 E5«<articulations><caesura/></articulations>» E5 E5", "E5:h E5:h"}, "n48" + afterIt + " n48"}, {"a break in a rest", []string{"E5 E5«<articulations><caesura/></articulations>» E5 E5", "r:w"}, "n96" + afterIt},
		{"the part has the break", []string{"E5 E5«<articulations><caesura/></articulations>» E5 E5", "E5:h«<articulations><caesura/></articulations>» E5:h"}, "n48" + afterIt + " n48"},
		{"beside other articulations", []string{"E5:h«<articulations><caesura/></articulations>» E5:h", "E5:h. E5:h"}, "n48<notations><articulations><staccato/><caesura/></articulations></notations> n48"},
		{"two parts break off", []string{"E5:h«<articulations><caesura/></articulations>» E5:h", "E5 E5«<articulations><caesura/></articulations>» E5:h", "r:h r:h"}, "n48" + afterIt + " n48"},
		{"a break in a bar that the part has not", []string{"E5:w | E5:w«<articulations><caesura/></articulations>»", "r:w"}, "n96"},
		{"a change of time", []string{"E5:w | " + twoFour + " E5:h", "E5:w | E5:h"}, "n96 | " + twoFour + " n48"}, {"a change of time that the part hides", []string{"E5:w | " + twoFour + " E5:h", "E5:w | " + strings.Replace(twoFour, "<time>", `<time print-object="no">`, 1) + " E5:h"}, "n96 | " + twoFour + " n48"},
		{"said again after another", []string{"E5:w | " + twoFour + " E5:h | E5:h", "E5:w | E5:h | " + twoFour + " E5:h"}, "n96 | " + twoFour + " n48 | n48"},
		{"said again, before another", []string{"E5:w | " + twoFour + " E5:h | E5:h", "E5:w | E5:h | " + twoFour + " E5 " + strings.Replace(twoFour, "<beats>2", "<beats>3", 1) + " E5"}, "n96 | " + twoFour + " n48 | n24 " + strings.Replace(twoFour, "<beats>2", "<beats>3", 1) + " n24"},
		{"the first of two that are alike", []string{"E5:w | " + strings.Replace(twoFour, "<time>", `<time symbol="cut">`, 1) + " E5:h", "E5:w | " + twoFour + " E5:h", "E5:w | E5:h"}, "n96 | " + strings.Replace(twoFour, "<time>", `<time symbol="cut">`, 1) + " n48"},
		{"inside the bar", []string{"E5:h " + twoFour + " E5:h", "E5:h E5:h"}, "n48 " + twoFour + " n48"}, {"in a bar that the part has not", []string{"E5:w | " + twoFour + " E5:h", "E5:w"}, "n96"},
		{"another staff's time", []string{"E5:w | " + strings.Replace(twoFour, "<time>", `<time number="2">`, 1) + " E5:h // C3:h", "E5:w | E5:h"}, "n96 | n48"}, {"the first staff's", []string{"E5:w | " + strings.Replace(twoFour, "<time>", `<time number="1">`, 1) + " E5:h", "E5:w | E5:h"}, "n96 | " + twoFour + " n48"},
		{"how bars are numbered", []string{`E5:w | <print><measure-numbering>none</measure-numbering></print> E5:w`, `E5:w | E5:w`}, `n96 | <print><measure-numbering>none</measure-numbering></print> n96`},
		{"two parts say it", []string{`E5:w | <print><measure-numbering>none</measure-numbering></print> E5:w`, `E5:w | <print><measure-numbering>measure</measure-numbering></print> E5:w`, `E5:w | E5:w`}, `n96 | <print><measure-numbering>none</measure-numbering></print> n96`},
		{"the part says it itself", []string{`E5:w | <print><measure-numbering>none</measure-numbering></print> E5:w`, `E5:w | <print><measure-numbering system="also-top" staff="1">measure</measure-numbering></print> E5:w`}, `n96 | <print><measure-numbering>system</measure-numbering></print> n96`},
		{"in the second of two <print>", []string{`E5:w`, `E5:w | <print new-system="yes"/> <print><measure-numbering>measure</measure-numbering></print> E5:w`}, `n96 | <print new-system="yes"/> <print><measure-numbering>system</measure-numbering></print> n96`},
		{"beside another break of lines", []string{`E5:w | <print><measure-numbering>none</measure-numbering></print> E5:w`, `E5:w | <print new-system="yes"/> E5:w`}, `n96 | <print new-system="yes"><measure-numbering>none</measure-numbering></print> n96`},
		{"every bar's number", []string{`E5:w | <print><measure-numbering>measure</measure-numbering></print> E5:w`, `E5:w | E5:w`}, `n96 | <print><measure-numbering>system</measure-numbering></print> n96`},
		{"in a bar that the part has not", []string{`E5:w | <print><measure-numbering>none</measure-numbering></print> E5:w`, `E5:w`}, `n96`},
		{"where it says what stands over rests", []string{`E5:w`, `<print><measure-numbering multiple-rest-always="no" multiple-rest-range="no">none</measure-numbering></print> E5:w`}, `<print><measure-numbering multiple-rest-always="no" multiple-rest-range="no">system</measure-numbering></print> n96`},
	} {
		got, warned := added(t, row.music...)
		assert.Equal(t, row.want, got, row.why)
		assert.Empty(t, warned, row.why)
	}
}

// What cannot be added is said, at its place.
func TestMarksNotAdded(t *testing.T) {
	t.Parallel()
	const playsOn = "other parts have a pause here while this one plays on; none was added"
	pause := func(measure string) musicxml.Warning {
		return musicxml.Warning{Code: "pause-elsewhere", Measure: measure, Beat: "1", Text: playsOn}
	}
	for _, row := range []struct {
		music    []string
		want     string
		warnings []musicxml.Warning
	}{
		{[]string{"E5:w | E5:h E5:h?", "E5:w | E5 E5 E5 E5"}, "n96 | n24 n24 n24 n24", []musicxml.Warning{{Code: "pause-elsewhere", Measure: "2", Beat: "3", Text: playsOn}}},
		{[]string{"E5:w | E5:w?", "E5:w? | E5:w", "E5 E5 E5 E5 | E5 E5 E5 E5"}, "n24 n24 n24 n24 | n24 n24 n24 n24", []musicxml.Warning{pause("1"), pause("2")}},
		{[]string{"E5 E5«<articulations><caesura/></articulations>» E5 E5", "E5:w"}, "n96", []musicxml.Warning{{Code: "pause-elsewhere", Measure: "1", Beat: "3", Text: playsOn}}},
		{[]string{"E5 E5 E5«<articulations><caesura/></articulations>» E5", "E5 E5«<articulations><caesura/></articulations>» E5 E5", "E5:w"}, "n96", []musicxml.Warning{{Code: "pause-elsewhere", Measure: "1", Beat: "3", Text: playsOn}, {Code: "pause-elsewhere", Measure: "1", Beat: "4", Text: playsOn}}},
		{[]string{"E5:w | E5:h " + twoFour + " E5:h", "E5:w | E5:w"}, "n96 | n96", []musicxml.Warning{{Code: "metre-not-placed", Measure: "2", Text: "the time signature changes inside a note of this part; it was not written"}}},
	} {
		got, warned := added(t, row.music...)
		assert.Equal(t, row.want, got)
		assert.Equal(t, row.warnings, warned)
	}
}

// What in one part may hold for everybody, a mark in brackets: its bar and beat (from 0), where it
// is printed if that is elsewhere, what it says, ! at the head of a system alone, # the number of a
// movement, the line that it goes on with.
func TestGather(t *testing.T) {
	t.Parallel()
	dir := func(attributes, types, rest string) string {
		return ` <direction ` + attributes + `>` + types + rest + `</direction> `
	}
	typed := func(inner string) string { return `<direction-type>` + inner + `</direction-type>` }
	said := func(text string) string { return typed(`<words>` + text + `</words>`) }
	const q, dashes, stop, top, bpm = " E5 E5 E5 E5", `<dashes type="start"/>`, `<direction><direction-type><dashes type="stop"/></direction-type></direction>`, `system="only-top"`,
		`<metronome><beat-unit>half</beat-unit><per-minute>60</per-minute></metronome>`
	for _, row := range []struct{ why, music, want string }{
		{"a tempo word in a bar", `E5 E5 "rit." E5 E5`, "0@2 words"},
		{"a player's word", `"pizz."` + q, ""},
		{"nothing", dir("", said(""), "") + q, ""},
		{"a shade of another word", `"molto"` + q, ""},
		{"a pause in words", `"G.P."` + q, "0@0 words"},
		{"the way through the piece", `"D.C. al Fine"` + q, "0@0 words"},
		{"seen later than it stands", dir("", said("rit."), "<offset>48</offset>") + q, "0@0 seen 2 words"},
		{"and sounding there", dir("", said("rit."), `<offset sound="yes">48</offset>`) + q, "0@2 words"},
		{"of the system", dir(top, said("x"), "") + q, "0@0 words"},
		{"of the system and its top", dir(`system="also-top"`, said("x"), "") + q, "0@0 words"},
		{"of one part", dir(`system="none"`, said("rit."), "") + q, ""},
		{"of one part, but played for everybody", dir(`system="none"`, said("rit."), `<sound tempo="60"/>`) + q, "0@0 tempo words"},
		{"a player's word that is played", dir("", said("arco"), `<sound tempo="60"/>`) + q, "0@0 tempo"},
		{"beside a metronome mark", dir("", said("with a limp")+typed(bpm), "") + q, "0@0 metronome words"},
		{"a player's word beside a metronome mark", dir("", said("arco")+typed(bpm), "") + q, "0@0 metronome"},
		{"words for the head of a system", `E5 | "Trio"` + q, "1@0 words!"},
		{"the same inside a bar", `E5 "Trio" E5 E5 E5`, ""},
		{"the same under the staff", dir(`placement="below"`, said("Trio"), "") + q, ""},
		{"a heading in small letters", `"maestoso"` + q, ""},
		{"a heading in brackets", `"(Maestoso)"` + q, "0@0 words!"},
		{"bold words without a letter or number", dir("", typed(`<words font-weight="bold">?!</words>`), "") + q, ""},
		{"bold words in small letters", dir("", typed(`<words font-weight="bold">with a limp</words>`), "") + q, ""},
		{"bold words", dir("", typed(`<words font-weight="bold">With a limp</words>`), "") + q, "0@0 words!"},
		{"bold words behind a note", `E5 ` + dir("", typed(`<words font-weight="bold">With a limp</words>`), ""), ""},
		{"a metronome mark in letters", `E5 "M.M. = 60" E5`, "0@1 words"},
		{"a symbol of the system", dir(top, typed(`<symbol>lyricsHyphenBaseline</symbol>`), "") + q, "0@0 other"},
		{"a symbol of a part", dir("", typed(`<symbol>lyricsHyphenBaseline</symbol>`), "") + q, ""},
		{"dynamics of the system", dir(top, typed(`<dynamics><f/></dynamics>`), "") + q, "0@0 other"},
		{"dynamics of a part", "!f" + q, ""},
		{"a hairpin of the system, which cannot be copied alone", dir(top, typed(`<wedge type="crescendo"/>`), "") + q, ""},
		{"a pedal of the system", dir(top, typed(`<pedal type="start"/>`), "") + q, ""},
		{"an octave line of the system", dir(top, typed(`<octave-shift type="up"/>`), "") + q, ""},
		{"a voice's line of the system", dir(top, typed(`<principal-voice type="start"/>`), "") + q, ""},
		{"a bracket of the system", dir(top, typed(`<bracket type="start" line-end="none"/>`), "") + q, ""},
		{"dashes of the system", dir(top, typed(dashes), "") + q, ""},
		{"signs and letters", dir("", typed("<segno/>"), "") + "E5 E5 " + dir("", typed("<coda/>"), "") + "E5 E5 | " + dir("", typed("<rehearsal>A</rehearsal>"), "") + q, "0@0 segno, 0@2 coda, 1@0 rehearsal"},
		{"an empty beat of a metronome mark", dir("", typed(`<metronome><beat-unit/><per-minute>60</per-minute></metronome>`), "") + q, ""},
		{"an empty direction type", dir("", `<direction-type/>`, "") + q, ""},
		{"playback", `E5 <sound tempo="60" coda="a" dacapo="yes" dynamics="5"><swing><straight/></swing></sound> E5 E5 E5 <sound pizzicato="yes"/>`, "0@1 tempo jump swing"},
		{"the directive of an older version", `[key 0] E5 <attributes><directive>Allegro</directive><directive>a 2</directive></attributes> E5 <attributes><directive>Maestoso</directive><directive>rit.</directive></attributes> E5 E5`, "0@1 words, 0@2 words, 0@2 words"},
		{"a chord symbol of the system", `E5 <harmony system="also-top"><root><root-step>C</root-step></root><kind>major</kind><offset>24</offset></harmony> E5 E5 E5`, "0@1 seen 2 harmony"},
		{"a chord symbol of a part", `<harmony system="none"><root><root-step>C</root-step></root><kind>major</kind></harmony>` + q, ""},
		{"syllables of a word", `"ral" E5:w | "len" E5:w | "x" E5:w | "do" E5:w`, "0@0 words, 1@0 words, 3@0 words"},
		{"syllables of a word that is over", `"rit." E5:w | "do" E5:w`, "0@0 words"},
		{"eight bars on", `"ral" E5:w` + strings.Repeat(" | E5:w", 7) + ` | "do" E5:w`, "0@0 words, 8@0 words"},
		{"nine bars on", `"ral" E5:w` + strings.Repeat(" | E5:w", 8) + ` | "do" E5:w`, "0@0 words"},
		{"each syllable a few bars on", `"ral" E5:w` + strings.Repeat(" | E5:w", 7) + ` | "len" E5:w` + strings.Repeat(" | E5:w", 7) + ` | "do" E5:w`, "0@0 words, 8@0 words, 16@0 words"},
		{"one movement's number", `"II." "Allegro"` + q, "0@0 words"},
		{"a line", dir("", said("rit.")+typed(dashes), "") + ` E5 E5 | E5 ` + stop + ` E5`, "0@0 words line to 1@1"},
		{"a line in a direction of its own", `"rit." ` + dir("", typed(dashes), "") + ` E5 E5 | E5 ` + stop + ` E5`, "0@0 words line to 1@1"},
		{"elsewhere", `"rit." E5 ` + dir("", typed(dashes), "") + ` E5 | E5 ` + stop + ` E5`, "0@0 words"},
		{"with something else", `"rit." ` + dir("", typed(dashes)+typed("<dynamics><f/></dynamics>"), "") + ` E5 E5 | E5 ` + stop + ` E5`, "0@0 words"},
		{"after what has no words", dir("", typed("<segno/>"), "") + " " + dir("", typed(dashes), "") + ` E5 E5 | E5 ` + stop, "0@0 segno"},
		{"after a playback tempo", `<tempo 60> ` + dir("", typed(dashes), "") + ` E5 E5 | E5 ` + stop, "0@0 tempo"},
		{"a second line in its place", dir("", said("rit.")+typed(dashes), "") + dir("", typed(`<bracket type="start" line-end="none"/>`), "") + ` E5 ` + stop + ` E5 <direction><direction-type><bracket type="stop" line-end="none"/></direction-type></direction>`, "0@0 words line to 0@1"},
		{"a line that stops under another number", dir("", said("rit.")+typed(`<dashes type="start" number="2"/>`), "") + ` E5 ` + stop + ` E5`, "0@0 words"},
		{"a line of another kind that stops", dir("", said("rit.")+typed(dashes), "") + ` E5 <direction><direction-type><bracket type="stop" line-end="none"/></direction-type></direction> E5`, "0@0 words"},
		{"a line that stops beside other words", dir("", said("rit.")+typed(dashes), "") + " E5 " + dir("", said("a tempo")+typed(`<dashes type="stop"/>`), "") + " E5", "0@0 words line to 0@1, 0@1 words"},
		{"two lines that start together", dir("", said("rit.")+typed(dashes)+typed(`<bracket type="start" line-end="none"/>`), "") + " E5 " + stop + ` E5 <direction><direction-type><bracket type="stop" line-end="none"/></direction-type></direction>`, "0@0 words line to 0@1"},
		{"words in two pieces", `E5 ` + dir("", said("Da")+said("Capo"), "") + ` E5`, "0@1 words"},
		{"lines inside each other", dir("", said("rit.")+typed(`<dashes type="start" number="2"/>`), "") + " E5 " + dir("", said("allarg.")+typed(dashes), "") + " E5 " + stop + ` E5 <direction><direction-type><dashes type="stop" number="2"/></direction-type></direction>`,
			"0@0 words line to 0@3, 0@1 words line to 0@2"},
		{"a number over and over", dir("", said("rit.")+typed(dashes), "") + " E5 " + stop + dir("", said("allarg.")+typed(dashes), "") + " E5 " + stop, "0@0 words line to 0@1, 0@1 words line to 0@2"},
	} {
		assert.Equal(t, row.want, marksText(gathered(t, row.music)), row.why)
	}
}

func gathered(t *testing.T, music string) *PartMarks {
	t.Helper()
	timeline, err := musicxml.NewTimeline(shorthand.Part(t, music))
	require.NoError(t, err)
	return Gather(timeline, glossary(t), false)
}

func marksText(p *PartMarks) string {
	names := []string{"words", "metronome", "rehearsal", "segno", "coda", "tempo", "jump", "swing", "harmony", "other"}
	var all []string
	for _, m := range p.marks {
		text := fmt.Sprintf("%d@%s", m.Measure, m.Onset)
		if m.seen != m.Onset {
			text += " seen " + m.seen.String()
		}
		for _, s := range m.says {
			for i, name := range names {
				if s.facet == 1<<i {
					text += " " + name + map[bool]string{true: "!"}[s.leading] + map[bool]string{true: "#"}[s.movement]
				}
			}
		}
		if m.line != nil {
			text += fmt.Sprintf(" line to %d@%s", m.line.to.Measure, m.line.to.Onset)
		}
		all = append(all, text)
	}
	return strings.Join(all, ", ")
}

// What may be a heading by its letters, the number of a movement, a metronome mark that was
// typed (the signs of notes in Unicode and in SMuFL 1.4, metronomeMarks and individualNotes).
func TestHowWordsLook(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]bool{"Allegro": true, "allegro": false, "(Allegro)": true, "1. Satz": true, "1. satz": false, "": false, "12": false} {
		assert.Equal(t, want, startsWithCapital(text), text)
	}
	for text, want := range map[string]bool{"I.": true, " IV ": true, "XII": true, "": false, "I. Allegro": false, "Violin I": false, "1.": false, "i.": false, "I..": false} {
		assert.Equal(t, want, movementNumber(text), text)
	}
	for text, want := range map[string]bool{"M.M. 60": true, "M. M. 60": true, "MM 60": false, "♩": false, "♭=": false, "\U0001D165=": false, "\uE1CF=": false, "\uE1F0=": false, "\uEC9F=": false, "\uECC0=": false,
		"♩ = 60": true, "♩. = ca. 60": true, "♬=": true, "\U0001D15C=": true, "\U0001D164=": true, "\uE1D0=": true, "\uE1EF=": true, "\uECA0=": true, "\uECBF=": true, "= 60": false} {
		assert.Equal(t, want, drawnMetronome(text), "%+q", text)
	}
	for inner, want := range map[string]bool{`<direction-type><words font-weight="bold">a</words></direction-type>`: true, `<direction-type><words>a</words></direction-type>`: false, `<direction-type><words/></direction-type>`: false,
		`<direction-type><words/></direction-type><direction-type><words font-weight="bold">a</words></direction-type>`:                   true,
		`<direction-type><words font-weight="bold">a</words></direction-type><direction-type><words>a</words></direction-type>`:           false,
		`<direction-type><words font-weight="bold">a</words><words font-weight="normal">b</words></direction-type>`:                       false,
		`<direction-type><segno/></direction-type><direction-type><words font-weight="bold">a</words></direction-type><offset>1</offset>`: true} {
		assert.Equal(t, want, boldWords(document(t, `<direction>`+inner+`</direction>`).Root()), inner)
	}
}

// A part's own marks are only compared: nothing of them is copied, and a chord symbol counts
// whomever it is for.
func TestGatherOwn(t *testing.T) {
	t.Parallel()
	timeline, err := musicxml.NewTimeline(shorthand.Part(t, `"rit." <harmony><root><root-step>C</root-step></root><kind>major</kind></harmony> <tempo 60> E5? <sound dacapo="yes"/> E5 <attributes><directive>Allegro</directive></attributes> E5 E5 <barline><bar-style>light-light</bar-style></barline>`))
	require.NoError(t, err)
	own := Gather(timeline, glossary(t), true)
	assert.Equal(t, "0@0 words, 0@0 harmony, 0@0 tempo, 0@1 jump, 0@2 words", marksText(own))
	for _, m := range own.marks {
		assert.Nil(t, m.direction)
		assert.Nil(t, m.sound)
		assert.Nil(t, m.harmony)
	}
	assert.Empty(t, own.barlines)
	assert.Len(t, own.pauses, 1)
	assert.Nil(t, own.pauses[0].element)
}

// The numbers of movements: each beside a tempo and a metre, two of them at least.
func TestNumbersOfMovements(t *testing.T) {
	t.Parallel()
	const time = ` <attributes><time><beats>4</beats><beat-type>4</beat-type></time></attributes> `
	for _, row := range []struct{ why, second, want string }{
		{"words", time + `"II." "Adagio" E5:w`, "1@0 words!#, 1@0 words"}, {"a heading", time + `"II." "Maestoso" E5:w`, "1@0 words!#, 1@0 words!"}, {"a metronome mark before it", `<direction><direction-type><metronome><beat-unit>half</beat-unit><per-minute>60</per-minute></metronome></direction-type></direction> ` + time + ` "II." E5:w`, "1@0 metronome, 1@0 words!#"},
		{"no metre", `"II." "Adagio" E5:w`, "-1@0 words"}, {"a metre later in the bar", `"II." "Adagio" E5:h ` + time + ` E5:h`, "-1@0 words"}, {"a tempo later in the bar", time + `"II." E5:h "Adagio" E5:h`, "-1@2 words"},
		{"no tempo", time + `"II." E5:w`, "-"}, {"an expression", time + `"II." "dolce" E5:w`, "-"}, {"in the middle of a bar", time + `"Adagio" E5:h "II." E5:h`, "-1@0 words"},
		{"attributes without a metre", `[key 2] "II." "Adagio" E5:w`, "-1@0 words"}, {"in the second voice", `"Adagio" E5:w << ` + time + ` "II." C5:w`, "-1@0 words"},
		{"under the staff", time + `<direction placement="below"><direction-type><words>II.</words></direction-type></direction> "Adagio" E5:w`, "-1@0 words"},
	} {
		want := "0@0 words!#, 0@0 words, " + row.want
		if row.want[0] == '-' { // then the first is alone
			want = strings.TrimSuffix("0@0 words, "+row.want[1:], ", ")
		}
		assert.Equal(t, want, marksText(gathered(t, `"I." "Allegro" E5:w | `+row.second)), row.why)
	}
}
