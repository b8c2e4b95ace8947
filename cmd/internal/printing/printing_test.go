package printing_test

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/printing"
	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/engraving/paper"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
)

// document is a part of that many measures of eight quavers, whose measures are
// numbered from 101 on.
func document(t *testing.T, measures int) *etree.Element {
	t.Helper()
	var text strings.Builder
	text.WriteString(`<score-partwise version="4.0"><work><work-title>Low Water</work-title></work><movement-number>2</movement-number>` +
		`<movement-title>Ebb</movement-title><identification><creator type="composer">invented</creator><rights>for the stand</rights></identification>` +
		`<part-list><score-part id="P1"><part-name>Viola</part-name></score-part></part-list><part id="P1">`)
	for i := range measures {
		fmt.Fprintf(&text, `<measure number="%d">`, 101+i)
		if i == 0 {
			text.WriteString("<attributes><divisions>2</divisions><time><beats>4</beats><beat-type>4</beat-type></time><clef><sign>C</sign><line>3</line></clef></attributes>")
		}
		text.WriteString(strings.Repeat(`<note><pitch><step>C</step><octave>4</octave></pitch><duration>1</duration><type>eighth</type></note>`, 8) + `</measure>`)
	}
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(text.String()+"</part></score-partwise>"))
	return doc.Root()
}

// A singer turns pages while singing: no turn of what is sung through is warned of, and
// none of a choir's score, whose staves are smaller (common practice, no source).
func TestPrintForSingers(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	soprano := catalogue.ByID("soprano-voice")
	require.NotNil(t, soprano)
	root := document(t, 300)
	for _, staves := range []int{1, 4} {
		attributes := root.FindElement("part/measure/attributes")
		attributes.CreateElement("staves").SetText(strconv.Itoa(staves))
		printed, err := printing.Options{}.Print(printing.Player{Instrument: soprano}, root)
		require.NoError(t, err)
		assert.Greater(t, len(printed.Row.Pages), 4)
		assert.Empty(t, printed.Turns)
		assert.Empty(t, printed.Warnings)
		assert.InDelta(t, map[int]float64{1: 8, 4: 6}[staves], printed.Staff, 0)
		attributes.RemoveChild(attributes.SelectElement("staves"))
	}
}

// A part without a bar is a page with its head.
func TestPrintWithoutBars(t *testing.T) {
	t.Parallel()
	printed, err := printing.Options{}.Print(printing.Player{}, document(t, 0))
	require.NoError(t, err)
	assert.Len(t, printed.Row.Pages, 1)
	assert.Zero(t, printed.Row.Pages[0].First)
}

// A part played through without rest: its pages follow one another, every turn is
// said to have no time, and what stands at the head comes from the header.
func TestPrint(t *testing.T) {
	t.Parallel()
	printed, err := printing.Options{Language: "de"}.Print(printing.Player{}, document(t, 300))
	require.NoError(t, err)
	assert.Equal(t, "Low Water: Viola", printed.Title)
	assert.Equal(t, "Viola", printed.Label)
	assert.Equal(t, [2]float64{210, 297}, printed.Paper, "A4 for German")
	assert.InDelta(t, 8.0, printed.Staff, 0)
	next := 0
	for _, page := range printed.Row.Pages {
		assert.Equal(t, next, page.First.Index)
		assert.Equal(t, fmt.Sprint(101+next), page.First.Number)
		next = page.Last.Index + 1
	}
	assert.Equal(t, 300, next)
	require.Greater(t, len(printed.Row.Pages), 3)
	assert.Len(t, printed.Turns, len(printed.Row.Pages)/2, "right-hand pages but the last are turned")
	require.Len(t, printed.Warnings, len(printed.Turns))
	assert.Equal(t, notice.Turn, printed.Warnings[0].Code)
	assert.Equal(t, printed.Row.Pages[0].Last.Number, printed.Warnings[0].Measure)
	data, err := printed.PDF()
	require.NoError(t, err)
	again, err := printed.PDF()
	require.NoError(t, err)
	assert.True(t, bytes.Equal(data, again), "the same bytes every time")
}

// Movements one after another, with their headings, under the title of the work.
func TestPrintMovements(t *testing.T) {
	t.Parallel()
	horn := &instruments.Instrument{Group: "brass"}
	printed, err := printing.Options{}.PrintWork(printing.Player{Label: "Horn in F", Instrument: horn}, "Tides",
		printing.Movement{Root: document(t, 20), Heading: "1"}, printing.Movement{Root: document(t, 30)}, printing.Movement{Heading: "3. Slack", Tacet: true})
	require.NoError(t, err)
	assert.Equal(t, "Tides: Horn in F", printed.Title)
	assert.InDelta(t, 7.5, printed.Staff, 0, "winds")
	assert.Equal(t, [2]float64{215.9, 279.4}, printed.Paper, "Letter for English")
	last := printed.Row.Pages[len(printed.Row.Pages)-1].Last
	assert.Equal(t, printing.Measure{Movement: 2}, last, "the line of a silent movement stands last")
	assert.Len(t, printed.Row.Pages, 1)
}

// What cannot be drawn is an error with its place.
func TestPrintWhatCannotBe(t *testing.T) {
	t.Parallel()
	_, err := printing.Options{}.Print(printing.Player{}, etree.NewElement("score-partwise"))
	require.Error(t, err)
	broken := document(t, 3)
	broken.FindElement("part/measure[2]/note/duration").SetText("one")
	_, err = printing.Options{}.Print(printing.Player{}, broken)
	assert.ErrorContains(t, err, "102")
	_, err = printing.Options{Paper: paper.Size{Width: 50, Height: 50}}.Print(printing.Player{}, document(t, 3))
	assert.Error(t, err)
}

// What is not drawn is in the row and warned of, with its bars.
func TestPrintSaysWhatIsNotDrawn(t *testing.T) {
	t.Parallel()
	root := document(t, 3)
	for _, direction := range root.FindElements("part/measure/note[1]") {
		metronome := direction.Parent().CreateElement("direction").CreateElement("direction-type").CreateElement("metronome")
		metronome.CreateElement("beat-unit")
	}
	printed, err := printing.Options{}.Print(printing.Player{}, root)
	require.NoError(t, err)
	assert.Equal(t, []printing.NotDrawn{{Element: "metronome", Count: 3}}, printed.NotDrawn)
	require.Len(t, printed.Warnings, 1)
	assert.Equal(t, notice.NotDrawn, printed.Warnings[0].Code)
	assert.Equal(t, "101", printed.Warnings[0].Measure)
	assert.Contains(t, printed.Warnings[0].Text, "3 times, in measures 101, 102, 103")
}

// A note that the file gives no accidental is drawn as the file has it, and named: the
// player would play another.
func TestPrintSaysWhatIsReadOtherwise(t *testing.T) {
	t.Parallel()
	root := document(t, 2)
	note := root.FindElement("part/measure[2]/note[4]/pitch")
	alter := etree.NewElement("alter")
	alter.SetText("1")
	note.InsertChildAt(1, alter)
	printed, err := printing.Options{}.Print(printing.Player{}, root)
	require.NoError(t, err)
	require.Len(t, printed.Warnings, 1)
	w := printed.Warnings[0]
	assert.Equal(t, "read-otherwise 102 2.5 C#4 is read as C4 off the page", fmt.Sprint(w.Code, " ", w.Measure, " ", w.Beat, " ", w.Text))
}

// TestAsItIs: a part file is printed as it is unless something else than its one player is
// asked for.
func TestAsItIs(t *testing.T) {
	t.Parallel()
	one, two := &musicxml.Score{Parts: make([]musicxml.RawPart, 1)}, &musicxml.Score{Parts: make([]musicxml.RawPart, 2)}
	assert.True(t, printing.AsItIs(one, parts.DefaultOptions()))
	assert.False(t, printing.AsItIs(two, parts.DefaultOptions()), "a score")
	for name, ask := range map[string]func(*parts.Options){
		"concert pitch":  func(o *parts.Options) { o.Input = parts.Concert },
		"players":        func(o *parts.Options) { o.Players = true },
		"percussionists": func(o *parts.Options) { o.Percussionists = 2 },
		"a plan":         func(o *parts.Options) { o.Plan = []parts.PlanRow{{Part: "P1", Instrument: "oboe"}} },
		"editions":       func(o *parts.Options) { o.Editions = make([]*instruments.Reader, 1) },
		"stand-ins":      func(o *parts.Options) { o.Substitutes = &instruments.Substitutes{} },
		"a choir":        func(o *parts.Options) { o.Choir = parts.ChoirParts },
	} {
		o := parts.DefaultOptions()
		ask(&o)
		assert.False(t, printing.AsItIs(one, o), name)
	}
}
