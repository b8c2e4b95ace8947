package parts_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
)

// suiteSheets makes the parts of a file of the test suite.
func suiteSheets(t *testing.T, file string) ([]parts.Assignment, []*parts.Part) {
	t.Helper()
	return sheetsOf(t, filepath.Join(musicxmltest.SharedDir(t), "testsuite", "xmlFiles", file), parts.DefaultOptions())
}

// The files of the test suite that have to do with the way through the piece, with
// rests and with the sheet. Expectations are worked by hand from each file and its
// own description; rests break as notation-rules section 10 says.
func TestSuiteRoadAndRests(t *testing.T) {
	t.Parallel()
	tests := []struct {
		file, why string
		road      string
	}{
		{"02c-Rests-MultiMeasureRests.xml", "31 empty bars with nothing between them are one rest; the file's own counts of 3, 15, 1 and 12 go", `
1 4/4 -31-
31 |||`},
		{"02d-Rests-Multimeasure-TimeSignatures.xml", "each new metre begins a new rest; bar 10 has notes", `
1 4/4 -2-
3 3/4 -3-
6 2/4 -2-
8 4/4 -2-
10 |||`},
		{"31a-Directions.xml", "a lone part keeps all its directions, in place and order", `
1 4/4 [A] [B] [Test] [Crc]
2 segno coda "words" eyeglasses
3 dynamics dynamics dynamics dynamics
4 dynamics dynamics dynamics dynamics
5 dynamics dynamics dynamics dynamics
6 dynamics dynamics dynamics dynamics
7 dynamics dynamics dynamics dynamics
8 dynamics dynamics dynamics dynamics
9 wedge crescendo wedge stop dashes start dashes stop
10 bracket start bracket stop octave-shift up octave-shift stop
11 pedal start pedal change pedal stop
12 metronome harp-pedals damp damp-all
13 scordatura accordion-registration ||
14 "subito" "" dynamics @2 dynamics wedge crescendo @2 wedge stop dynamics @2 |||`},
		{"31c-MetronomeMarks.xml", "metronome marks stay", `
1 4/4 metronome "Adagio" metronome
2 metronome metronome
3 metronome metronome |||`},
		{"45a-SimpleRepeat.xml", "the repeat ends the rest: two single bars", `
1 4/4 ||| :|x5
2 |||`},
		{"45b-RepeatWithAlternatives.xml", "endings stay", `
1 4/4
2 left [1. ||| 1.] :|
3 left [2. 2.
4 |||`},
		{"45c-RepeatMultipleTimes.xml", "repeats break rests on both sides: 1, 2-3, 4-7, 8", `
1 4/4
2 left ||| |: -2-
3 ||| :|x5
4 -4-
7 ||| :|x3
8 |||`},
		{"45d-Repeats-Nested-Alternatives.xml", "so do endings: 1, 2, 3-5, 6-9, 10, 11, 12", `
1 4/4
2 left [1. ||| 1.] :|
3 left [2. -3-
5 ||| 2.] :|
6 left [3. -4-
9 ||| 3.] :|
10 left [4. ||| 4.] :|
11 left [5. 5.
12 |||`},
		{"45e-Repeats-Nested-Alternatives.xml", "bar 8 opens an ending and a repeat", `
1 4/4
2 left [1. ||| 1.] :|
3 left [2. 2.
5 left ||| |: ||| :|
6 left ||| |:
7 left [1. ||| 1.] :|
8 left ||| [2. |: 2.
9 ||| :|
10 |||`},
		{"45f-Repeats-InvalidEndings.xml", "endings that make no sense are carried through", `
1 4/4
2 left [1, 2, 3. 1, 2, 3.]
3 left [2. 2.
4 ||| 2.] :|
5 |||`},
		{"45g-Repeats-NotEnded.xml", "a repeat that does not end is not ended", `
1 4/4
2 left ||| |: |||`},
		{"46a-Barlines.xml", "a regular bar line and none break nothing (1-3, 12-13), every other does", `
1 4/4 -3-
2 regular
3 dotted
4 dashed
5 heavy
6 ||
7 |||
8 |||
9 heavy-heavy
10 tick
11 short
12 -2- none`},
		{"46b-MidmeasureBarline.xml", "a bar line inside a bar stays there", `
1 middle dotted`},
		{"46c-Midmeasure-Clef.xml", "a bar in two halves stays so", `
1 4/4
2 none
3 |||`},
		{"46d-PickupMeasure-ImplicitMeasures.xml", "pickup and split bars keep their numbers", `
0 4/4
1 none
2 |||`},
		{"46e-PickupMeasure-SecondVoiceStartsLater.xml", "nothing is said beside the notes", ``},
		{"46f-IncompleteMeasures.xml", "short bars stay short", `
1 4/4`},
		{"46g-PickupMeasure-Chordnames-FiguredBass.xml", "a pickup with chord symbols", `
0 4/4`},
		{"52b-Breaks.xml", "breaks of the source are gone", `
1 4/4`},
	}
	for _, tt := range tests {
		_, sheets := suiteSheets(t, tt.file)
		require.Len(t, sheets, 1)
		assert.Equal(t, strings.TrimSpace(tt.road), roadText(sheets[0].Document), tt.why)
	}
}

// The files with several parts: which parts there are, in which order, under which
// names (part-name-display overrides part-name; MusicXML 4.0).
func TestSuitePartLists(t *testing.T) {
	t.Parallel()
	twenty := make([]string, 20)
	for i := range twenty {
		twenty[i] = fmt.Sprintf("P%d", i)
	}
	tests := []struct {
		file, why string
		labels    []string
	}{
		{"41a-MultiParts-Partorder.xml", "the order of the parts, not of their ids", []string{"Part 1", "Part 2", "Part 3", "Part 4"}},
		{"41b-MultiParts-MoreThan10.xml", "parts without names go by their ids", twenty},
		{"41c-StaffGroups.xml", "groups name no part; keys of clarinets are those of the names, the usual ones for horns and trumpets", []string{
			"Piccolo", "Flute 1", "Flute 2", "Oboe", "English Horn", "Clarinet in E♭", "Clarinet in B♭ 1", "Clarinet in B♭ 2", "Bass Clarinet in B♭",
			"Bassoon 1", "Bassoon 2", "Contrabassoon", "Horn in F 1", "Horn in F 2", "Trumpet in C 1", "Trumpet in C 2", "Trombone 1", "Trombone 2",
			"Tuba", "Timpani", "Percussion", "Harp", "Piano", "Violin 1", "Violin 2", "Viola", "Cello", "Double Bass"}},
		{"41d-StaffGroups-Nested.xml", "nested groups go", []string{"MusicXML Part", "MusicXML Part", "MusicXML Part", "MusicXML Part", "MusicXML Part"}},
		{"41e-StaffGroups-InstrumentNames-Linebroken.xml", "a name of several lines heads the sheet in one", []string{"Long Staff Name"}},
		{"41f-StaffGroups-Overlapping.xml", "overlapping groups go", []string{"MusicXML Part", "MusicXML Part", "MusicXML Part", "MusicXML Part", "MusicXML Part"}},
		{"41g-PartNoId.xml", "the only part is the only entry's", []string{"MusicXML Part"}},
		{"41h-TooManyParts.xml", "parts that are not listed are made all the same", []string{"MusicXML Part", "P3", "P4"}},
		{"41i-PartNameDisplay-Override.xml", "the display name heads the sheet", []string{"Part name", "Overridden Part Name"}},
		{"51b-Header-Quotes.xml", "quotes in a name", []string{`Staff "Test"`}},
	}
	for _, tt := range tests {
		assignments, sheets := suiteSheets(t, tt.file)
		var labels []string
		for i, a := range assignments {
			labels = append(labels, a.Label)
			root := sheets[i].Document.Root()
			assert.Len(t, root.FindElements("part-list/*"), 1, "one part, no groups")
			assert.Equal(t, a.Label, root.FindElement("part-list/score-part/part-name").Text())
		}
		assert.Equal(t, tt.labels, labels, tt.why)
	}
}

// What stands round the music on the first page.
func TestSuiteSheets(t *testing.T) {
	t.Parallel()
	tests := []struct {
		file, why string
		credits   []string // type: words
	}{
		{"51b-Header-Quotes.xml", "titles with quotes stay as they are; the header's fields become credits where the file has none", []string{
			`title: "Quotes" in header fields`, `composer: Some "Tester" Name`, `rights: Free for anyone ("Public Domain")`, `part name: Staff "Test"`}},
		{"51c-MultipleRights.xml", "both rights stand on the page", []string{
			"rights: Copyright © XXXX by Y. ZZZZ.", "rights: Released To The Public Domain.", "part name: MusicXML Part"}},
		{"51d-EmptyTitle.xml", "the movement's title where the work's is empty", []string{
			"title: Empty work-title, non-empty movement-title", "part name: MusicXML Part"}},
		{"52a-PageLayout.xml", "a credit without a type stays, on other paper", []string{": Layout options", "part name: Piano"}},
	}
	for _, tt := range tests {
		_, sheets := suiteSheets(t, tt.file)
		var credits []string
		for _, credit := range sheets[0].Document.FindElements("//credit") {
			credits = append(credits, musicxml.ChildText(credit, "credit-type")+": "+musicxml.ChildText(credit, "credit-words"))
		}
		assert.Equal(t, tt.credits, credits, tt.why)
		root := sheets[0].Document.Root()
		assert.Empty(t, root.FindElements("defaults/system-layout"))
		assert.Equal(t, "8", musicxml.ChildText(root.FindElement("defaults/scaling"), "millimeters"))
	}
}
