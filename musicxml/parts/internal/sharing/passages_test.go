package sharing

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/survey"
)

// A stroke that another percussionist has is a hidden rest of the same length: all that a
// rest cannot have goes, a tuplet's bracket and a pause stay (MusicXML 4.0, note).
func TestRest(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ from, want string }{
		{`<note><unpitched/><duration>1</duration><tie type="start"/><instrument id="I"/><voice>1</voice><type>eighth</type><dot/><accidental>sharp</accidental><time-modification/><stem>up</stem>` +
			`<notehead>x</notehead><notehead-text/><staff>1</staff><beam>begin</beam><notations><tied type="start"/><tuplet type="start"/><fermata/><slur/></notations><lyric/><play/><listen/></note>`,
			`<note print-object="no"><rest/><duration>1</duration><voice>1</voice><type>eighth</type><dot/><time-modification/><staff>1</staff><notations><tuplet type="start"/><fermata/></notations></note>`},
		{`<note><pitch/><duration>1</duration><notations><slur/></notations></note>`, `<note print-object="no"><rest/><duration>1</duration></note>`},
	} {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromString(row.from))
		rest(doc.Root())
		text, err := doc.WriteToString()
		require.NoError(t, err)
		assert.Equal(t, row.want, text)
	}
}

func flute(t *testing.T) *instruments.Instrument {
	t.Helper()
	catalogue := instrumentstest.Load(t)
	return catalogue.ByID("flute")
}

// surveyOf is a score of one part without named instruments.
func surveyOf() *survey.Score { return &survey.Score{ScoreParts: make([]musicxml.ScorePart, 1)} }

// Rests that follow each other are written as the fewest that show the beats (notation-rules,
// rests): in four quarters none over the middle, in six eighths dotted quarters; each voice its own,
// and nothing that the divisions cannot say.
func TestJoinedRests(t *testing.T) {
	t.Parallel()
	rest := func(voice string, quarters int) string {
		return strings.Repeat(`<note><rest/><duration>1</duration><voice>`+voice+`</voice><type>quarter</type></note>`, quarters)
	}
	const bar68 = `<attributes><time><beats>6</beats><beat-type>8</beat-type></time></attributes>`
	for _, row := range []struct{ why, bar, want string }{
		{"the second half", quarterA + quarterA + rest("1", 2), "1 1 r2"}, {"over the middle", quarterA + rest("1", 2) + quarterA, "1 r1 r1 1"}, {"the first half and more", rest("1", 3) + quarterA, "r2 r1 1"},
		{"all of it", rest("1", 4), "r4"}, {"one alone", quarterA + rest("1", 1) + quarterA, "1 r1 1"}, {"of two voices", quarterA + rest("1", 1) + rest("2", 2), "1 r1 r2"}, {"two by two", rest("1", 2) + rest("2", 2), "r2 r2"},
		{"dotted, which quarters cannot say", bar68 + rest("1", 3), "r1 r1 r1"},
		{"with a pause over one", quarterA + quarterA + rest("1", 1) + strings.Replace(rest("1", 1), "</note>", "<notations><fermata/></notations></note>", 1), "1 1 r1 r1"},
	} {
		d := draftOf(t, row.bar)
		joinRests(d, &d.Timeline.Measures[0])
		var got []string
		for _, e := range d.Part.FindElements("measure/note") {
			text := musicxml.ChildText(e, "duration")
			if musicxml.Child(e, "rest") != nil {
				text = "r" + text
			}
			got = append(got, text)
		}
		assert.Equal(t, row.want, strings.Join(got, " "), row.why)
	}
}

// A percussionist has the second and third of four quarters, and nobody what comes before them.
// What is said there and before stays; so does a line that ends later, and an end that the score
// gives no beginning; what began for another goes with its end, and nothing else of that direction.
func TestMarksOfPassages(t *testing.T) {
	t.Parallel()
	line := func(kind, what string) string {
		return `<direction-type><` + kind + ` type="` + what + `"/></direction-type>`
	}
	says := func(types string) string { return `<direction>` + types + `</direction>` }
	const soft, loud = `<direction-type><words>soft sticks</words></direction-type>`, `<direction-type><dynamics><f/></dynamics></direction-type>`
	slurred := func(what string) string {
		return strings.Replace(quarterA, `</note>`, `<notations><slur type="`+what+`"/></notations></note>`, 1)
	}
	begin, stop := says(line("wedge", "crescendo")), says(line("wedge", "stop"))
	for _, row := range []struct {
		why, bar string
		want     []string
	}{
		{"before, in and behind", says(soft) + quarterA + says(soft) + quarterA + quarterA + says(loud) + quarterA + says(soft), []string{"words", "words", "dynamics"}},
		{"a pair", quarterA + begin + quarterA + stop + quarterA + quarterA, []string{"wedge crescendo", "wedge stop"}},
		{"that ends late", quarterA + begin + quarterA + quarterA + quarterA + stop, []string{"wedge crescendo", "wedge stop"}},
		{"another's", quarterA + quarterA + quarterA + quarterA + begin + quarterA + stop, nil},
		{"an end without beginning", quarterA + stop + quarterA + quarterA + quarterA, []string{"wedge stop"}},
		{"a beginning without end", quarterA + begin + quarterA + quarterA + quarterA, []string{"wedge crescendo"}},
		{"another's end without beginning", quarterA + quarterA + quarterA + quarterA + stop, nil},
		{"a pedal that ends late", quarterA + says(line("pedal", "start")) + quarterA + quarterA + quarterA + says(line("pedal", "stop")), []string{"pedal start", "pedal stop"}},
		{"ends late, where another has a word", quarterA + begin + quarterA + quarterA + quarterA + says(line("wedge", "stop")+loud), []string{"wedge crescendo", "wedge stop"}},
		{"both in one direction", quarterA + says(line("dashes", "start")+loud) + quarterA + quarterA + says(line("dashes", "stop")) + quarterA, []string{"dashes start", "dynamics", "dashes stop"}},
		{"a slur to another's note", quarterA + quarterA + slurred("start") + slurred("stop"), nil},
		{"a slur to another's note behind lines of one's own", quarterA + begin + quarterA + stop + slurred("start") + slurred("stop"), []string{"wedge crescendo", "wedge stop"}},
		{"a slur to another's note behind a line without end", quarterA + begin + quarterA + slurred("start") + slurred("stop"), []string{"wedge crescendo"}},
		{"a slur of one's own", quarterA + slurred("start") + slurred("stop") + quarterA, []string{"slur start", "slur stop"}},
	} {
		d := draftOf(t, row.bar)
		at := func(quarter int64) musicxml.Position {
			return musicxml.Position{Onset: musicxml.NewFraction(quarter, 1)}
		}
		d.Score = surveyOf()
		d.Assignment.Takes = []assign.Take{{From: at(1), To: at(3), Since: musicxml.Position{Measure: -1}}}
		require.NoError(t, TakePassages(d))
		var got []string
		for _, path := range []string{"//slur", "//direction-type/*"} {
			for _, e := range d.Part.FindElements(path) {
				got = append(got, strings.TrimSpace(e.Tag+" "+musicxml.Attr(e, "type")))
			}
		}
		assert.Equal(t, row.want, got, row.why)
		for _, path := range []string{"//direction-type", "//direction", "//notations"} {
			for _, e := range d.Part.FindElements(path) {
				assert.NotEmpty(t, e.ChildElements(), row.why)
			}
		}
	}
}
