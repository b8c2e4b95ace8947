package divided

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
)

// told reads a part bar by bar: clefs, notes and marks, each with its staff; a stem and what
// says on which side a bow is behind it.
func told(d *draft.Draft) (text string) {
	for i, m := range musicxml.Children(d.Part, "measure") {
		if i > 0 {
			text += "| "
		}
		for _, e := range m.ChildElements() {
			staff := musicxml.ChildText(e, "staff")
			switch e.Tag {
			case "attributes":
				if staves := musicxml.ChildText(e, "staves"); staves != "" {
					text += "staves " + staves + " "
				}
				for _, clef := range musicxml.Children(e, "clef") {
					text += musicxml.ChildText(clef, "sign") + musicxml.Attr(clef, "number") + " "
				}
				for _, details := range musicxml.Children(e, "staff-details") {
					text += "shown" + musicxml.Attr(details, "number") + " " + musicxml.Attr(details, "print-object") + " "
				}
			case "note":
				text += musicxml.Text(musicxml.Descend(e, "pitch", "step")) + staff + musicxml.ChildText(e, "stem")
				for _, bow := range e.FindElements("notations/*") {
					text += musicxml.Attr(bow, "placement") + musicxml.Attr(bow, "orientation")
				}
				text += " "
			case "direction":
				for _, mark := range e.FindElements("direction-type/*") {
					text += mark.Tag + staff + " "
				}
				if words := e.FindElement("direction-type/words"); words != nil {
					text += musicxml.Text(words) + musicxml.Attr(e, "placement") + " "
				}
			}
		}
	}
	return text
}

// What a passage looks like on two staves: the upper half of the voices above, dynamics that
// are nobody's own on both, words where the score has none.
func TestSet(t *testing.T) {
	t.Parallel()
	mark := func(kind, voice string) string {
		return `<direction><direction-type><` + kind + `/></direction-type><voice>` + voice + `</voice></direction> `
	}
	for _, row := range []struct{ why, music, want string }{
		{"nothing to set", "bass C3:w | D3:w", "F C | D "},
		{"two voices", "bass E3:h↑ C3:h↑ / D3:w↓ | C3:w", "staves 2 F1 F2 words1 div.above E1 C1 D2 | words1 unis.above C "},
		{"a usual clef", "D4:w / E4:w", "staves 2 G1 G2 words1 div.above D1 E2 "},
		{"a stem that says something else", "D4:w! / E4:w", "staves 2 G1 G2 words1 div.above D1none E2 "},
		{"bows", `D4:h«<slur·type="start"·placement="above"/><tied·type="start"·orientation="over"/><fermata·placement="above"/>» D4:h / E4:w`, "staves 2 G1 G2 words1 div.above D1above D1 E2 "},
		{"three voices", "F4:w↑ / D4:w↑ / E4:w↓", "staves 2 G1 G2 words1 div.above F1up D1up E2down "}, {"four voices", "G4:w / F4:w / D4:w / E4:w", "staves 2 G1 G2 words1 div.above G1 F1 D2 E2 "},
		{"a dynamic for both", "!f D4:w / E4:w", "staves 2 G1 G2 words1 div.above dynamics dynamics2 D1 E2 "}, {"a hairpin", "!< D4:w / E4:w", "staves 2 G1 G2 words1 div.above wedge D1 E2 "},
		{"dynamics of each", mark("dynamics", "1") + "D4:w << " + mark("dynamics", "2") + "E4:w", "staves 2 G1 G2 words1 div.above dynamics1 D1 dynamics2 E2 "}, {"a hairpin of the lower", "D4:w << " + mark("wedge", "2") + "E4:w", "staves 2 G1 G2 words1 div.above D1 wedge2 E2 "},
		{"a clef later", "D4:w / E4:w | bass C3:w", "staves 2 G1 G2 words1 div.above D1 E2 | F1 F2 words1 unis.above C "},
		{"the score says it", `"div." D4:w / E4:w | "unis." C4:w`, "staves 2 G1 G2 words div. D1 E2 | words unis. C "}, {"it said it before", `"div." C4:w | D4:w / E4:w`, "staves 2 G1 G2 words div. C | D1 E2 "},
		{"they came together since", `"div." C4:w | "unis." C4:w | D4:w / E4:w`, "staves 2 G1 G2 words div. C | words unis. C | words1 div.above D1 E2 "},
		{"they divide anew behind", `D4:w / E4:w | "div." C4:w`, "staves 2 G1 G2 words1 div.above D1 E2 | words div. C "}, {"they rest behind", "D4:w / E4:w | R | C4:w", "staves 2 G1 G2 words1 div.above D1 E2 |  | C "},
		{"bars repeated in two voices behind", "D4:w / E4:w | <attributes><measure-style><slash type='start'/></measure-style></attributes> E4:w / C4:w", "staves 2 G1 G2 words1 div.above D1 E2 | E C "}, {"a clef in its own place", "<attributes><clef><sign>C</sign></clef></attributes> D4:w / E4:w", "staves 2 C1 C2 words1 div.above D1 E2 "},
		{"a clef in the bar", "D4:h bass D4:h / E4:w", "staves 2 G1 G2 words1 div.above D1 F1 F2 D1 E2 "},
		{"together in the bar where they divide", `"div." C4:w | "unis." D4:w / E4:w`, "staves 2 G1 G2 words div. C | words unis. D1 E2 "},
	} {
		d := draftOf(t, row.music)
		require.NoError(t, Set(d))
		assert.Equal(t, row.want, told(d), row.why)
	}
}

// The second staff is shown where a passage begins and hidden behind it, and at the beginning.
func TestHide(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		passages []draft.Bars
		want     string
	}{
		{nil, "C | C | C | C "}, {[]draft.Bars{{First: 1, Last: 1}}, "shown2 no C | shown2 yes C | shown2 no C | C "}, {[]draft.Bars{{First: 0, Last: 1}}, "shown2 yes C | C | shown2 no C | C "},
		{[]draft.Bars{{First: 2, Last: 3}}, "shown2 no C | C | shown2 yes C | C "}, {[]draft.Bars{{First: 0, Last: 0}, {First: 1, Last: 1}, {First: 3, Last: 3}}, "shown2 yes C | shown2 yes C | shown2 no C | shown2 yes C "},
	} {
		d := draftOf(t, "C4:w | C4:w | C4:w | C4:w")
		d.Divided = row.passages
		require.NoError(t, Hide(d))
		assert.Equal(t, row.want, told(d), "%v", row.passages)
	}
}

// What a part says of its passages is read as it was written; numbers may be anything.
func TestText(t *testing.T) {
	t.Parallel()
	timeline := &musicxml.Timeline{Measures: []musicxml.Measure{{Number: "1"}, {Number: "X1 a,b"}, {Number: "3"}}}
	for _, row := range []struct {
		passages []draft.Bars
		text     string
		want     []Passage
	}{
		{[]draft.Bars{{First: 0, Last: 2}}, "1 to 3", []Passage{{First: "1", Last: "3"}}},
		{[]draft.Bars{{First: 0, Last: 0, Added: true}, {First: 1, Last: 2, United: true}}, "1 to 1 div., X1+a%2Cb to 3 unis.", []Passage{{"1", "1", true, false}, {"X1 a,b", "3", false, true}}},
		{[]draft.Bars{{First: 2, Last: 2, Added: true, United: true}}, "3 to 3 div. unis.", []Passage{{"3", "3", true, true}}},
	} {
		assert.Equal(t, row.text, Text(timeline, row.passages))
		got, err := Parse(row.text)
		require.NoError(t, err)
		assert.Equal(t, row.want, got)
	}
	for text, want := range map[string]string{
		"": `"" does not say which bars stand on two staves`, "1 to": `"1 to" does not say which bars stand on two staves`, "1 till 3": `"1 till 3" does not say which bars stand on two staves`,
		"%x to 3": `"%x to 3" does not say which bars stand on two staves: invalid URL escape "%x"`, "1 to %y": `"1 to %y" does not say which bars stand on two staves: invalid URL escape "%y"`,
	} {
		_, err := Parse(text)
		assert.EqualError(t, err, want)
	}
}

// What was added goes: the second staff's copies of dynamics, and the words that the part says
// were; what has the same look and stood there stays.
func TestApart(t *testing.T) {
	t.Parallel()
	mark := func(kind, staff string) string {
		return `<direction><direction-type><` + kind + `/></direction-type><staff>` + staff + `</staff></direction> `
	}
	loud := func(staff string) string { return mark("dynamics><f/></dynamics><other-direction", staff) }
	for _, row := range []struct {
		why, music string
		passages   []Passage
		want, err  string
	}{
		{why: "a copy", music: loud("1") + loud("2") + "C4:w", passages: []Passage{{First: "1", Last: "1"}}, want: "dynamics1 other-direction1 C "}, {why: "of another moment", music: loud("1") + "C4:w " + loud("2"), passages: []Passage{{First: "1", Last: "1"}}, want: "dynamics1 other-direction1 C dynamics2 other-direction2 "},
		{why: "another dynamic", music: mark("dynamics", "1") + loud("2") + "C4:w", passages: []Passage{{First: "1", Last: "1"}}, want: "dynamics1 dynamics2 other-direction2 C "}, {why: "a hairpin", music: mark("wedge", "1") + mark("wedge", "2") + "C4:w", passages: []Passage{{First: "1", Last: "1"}}, want: "wedge1 wedge2 C "},
		{why: "twice on the first", music: loud("1") + loud("1") + "C4:w", passages: []Passage{{First: "1", Last: "1"}}, want: "dynamics1 other-direction1 dynamics1 other-direction1 C "}, {why: "outside", music: loud("1") + loud("2") + "C4:w | C4:w", passages: []Passage{{First: "2", Last: "2"}}, want: "dynamics1 other-direction1 dynamics2 other-direction2 C | C "},
		{why: "in each bar", music: "C4:w | " + loud("1") + loud("2") + "C4:w | " + loud("1") + loud("2") + "C4:w", passages: []Passage{{First: "2", Last: "3"}}, want: "C | dynamics1 other-direction1 C | dynamics1 other-direction1 C "},
		{why: "words that were added", music: `"div." "div." "pizz." C4:w | "arco" "unis." C4:w`, passages: []Passage{{"1", "1", true, true}}, want: "words div. words pizz. C | words arco C "}, {why: "words of the score", music: `"div." C4:w | "unis." C4:w`, passages: []Passage{{First: "1", Last: "1"}}, want: "words div. C | words unis. C "},
		{why: "at the end", music: `"div." C4:w`, passages: []Passage{{"1", "1", true, true}}, want: "C "}, {why: "two passages", music: `"div." C4:w | "unis." C4:w | "div." C4:w`, passages: []Passage{{"1", "1", true, false}, {"3", "3", true, false}}, want: "C | words unis. C | C "},
		{why: "bars of one number", music: `<sound/> "div." C4:w | C4:w | "div." C4:w`, passages: []Passage{{"1", "1", true, false}, {"1", "1", true, false}}, want: "C | C | C "},
		{why: "a bar that is not there", music: "C4:w", passages: []Passage{{First: "7", Last: "1"}}, err: "the part says that bars 7 to 1 stand on two staves; it does not have them"},
		{why: "an end that is not there", music: "C4:w", passages: []Passage{{First: "1", Last: "9"}}, err: "the part says that bars 1 to 9 stand on two staves; it does not have them"},
		{why: "bars in the wrong order", music: "C4:w | C4:w", passages: []Passage{{First: "2", Last: "1"}}, err: "the part says that bars 2 to 1 stand on two staves; it does not have them"},
		{why: "twice the same", music: "C4:w | C4:w", passages: []Passage{{First: "1", Last: "1"}, {First: "1", Last: "1"}}, err: "the part says that bars 1 to 1 stand on two staves; it does not have them"},
	} {
		d := draftOf(t, row.music)
		if row.why == "bars of one number" {
			musicxml.Children(d.Part, "measure")[2].CreateAttr("number", "1")
		}
		err := Apart(d.Part, row.passages)
		if row.err != "" {
			assert.EqualError(t, err, row.err, row.why)
			continue
		}
		require.NoError(t, err, row.why)
		assert.Equal(t, row.want, told(d), row.why)
	}
}
