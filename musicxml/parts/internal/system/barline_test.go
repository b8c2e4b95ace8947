package system

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"

	"deskpart/musicxml"
)

// Of two bar lines at one place the one that says more of the form wins: the end and the
// repeats over the double line, that over a heavy one, that over dashes; what is drawn for one
// staff says nothing (gehrkens-mnt s.36-44; MusicXML 4.0, bar-style).
func TestRanksOfBarlines(t *testing.T) {
	t.Parallel()
	rank := func(style string) int {
		b := etree.NewElement("barline")
		if style != "" {
			b.CreateElement("bar-style").SetText(style)
		}
		return styleRank(b)
	}
	ranks := [][]string{{"", "regular", "none", "tick", "short"}, {"dashed", "dotted"}, {"heavy"}, {"light-light"}, {"light-heavy", "heavy-light", "heavy-heavy"}}
	for i, styles := range ranks {
		for _, style := range styles {
			assert.Equal(t, rank(styles[0]), rank(style), style)
			if i > 0 {
				assert.Greater(t, rank(style), rank(ranks[i-1][0]), style)
			}
		}
	}
	assert.Zero(t, rank(""))
}

// What of a <sound> is said to everybody: the tempo and where playback goes on (MusicXML 4.0,
// sound).
func TestFacetsOfSounds(t *testing.T) {
	t.Parallel()
	for key, want := range map[string]facet{
		"tempo": saysTempo, "dacapo": saysJump, "dalsegno": saysJump, "segno": saysJump, "coda": saysJump, "tocoda": saysJump, "fine": saysJump, "forward-repeat": saysJump,
		"dynamics": 0, "pizzicato": 0, "pan": 0, "elevation": 0, "damper-pedal": 0, "soft-pedal": 0, "sostenuto-pedal": 0, "divisions": 0, "time-only": 0, "id": 0,
	} {
		assert.Equal(t, want, soundFacet(key), key)
	}
}

// What two bar lines at one place say stands in one, each thing once; an ending that only one
// part hides is shown (MusicXML 4.0, barline, ending).
func TestBarlinesCompleted(t *testing.T) {
	t.Parallel()
	read := func(inner string) *etree.Document {
		doc := etree.NewDocument()
		assert.NoError(t, doc.ReadFromString(`<barline`+inner+`</barline>`))
		return doc
	}
	const back, hidden, ending = `<repeat direction="backward"/>`, `<ending number="1" type="stop" print-object="no"/>`, `<ending number="1" type="stop"/>`
	for _, row := range []struct{ own, from, want string }{
		{`>`, `>` + back, `>` + back}, {`>` + back, `>` + back, `>` + back}, {`>` + back, `>`, `>` + back}, {`><bar-style>light-light</bar-style>`, `><bar-style>light-heavy</bar-style>` + back, `><bar-style>light-heavy</bar-style>` + back},
		{`><bar-style>light-heavy</bar-style>`, `><bar-style>light-light</bar-style>`, `><bar-style>light-heavy</bar-style>`}, {`>`, `><segno/><coda/><fermata/>`, `><segno/><coda/><fermata/>`}, {`><fermata/>`, `><fermata/><fermata/>`, `><fermata/>`},
		{`>`, `>` + ending, `>` + ending}, {`>` + hidden, `>` + ending, `>` + ending}, {`>` + hidden, `>` + hidden, `>` + hidden}, {`>` + ending, `>` + hidden, `>` + ending},
		{`>`, ` segno="a" coda="b">`, ` segno="a" coda="b">`}, {` segno="a">`, ` segno="c" coda="b">`, ` segno="a" coda="b">`},
	} {
		own := read(row.own)
		completeBarline(own.Root(), read(row.from).Root())
		text, err := own.WriteToString()
		assert.NoError(t, err)
		want, err := read(row.want).WriteToString()
		assert.NoError(t, err)
		assert.Equal(t, want, text, "%s and %s", row.own, row.from)
	}
	for text, want := range map[string]int{`<measure/>`: 0, `<measure><note/></measure>`: 0, `<measure><print/><note/></measure>`: 1, `<measure><barline/><print/><note/></measure>`: 2} {
		doc := etree.NewDocument()
		assert.NoError(t, doc.ReadFromString(text))
		assert.Equal(t, want, afterPrint(doc.Root()), text)
	}
}

// A pause goes to the last rest that lasts into it, or to the one note that is held throughout;
// where notes move meanwhile to none (common practice, no source).
func TestWhatCarriesAPause(t *testing.T) {
	t.Parallel()
	note := func(onset, duration int64, rest bool) musicxml.Event {
		return musicxml.Event{Kind: musicxml.Note, Onset: musicxml.NewFraction(onset, 1), Duration: musicxml.NewFraction(duration, 1), Rest: rest}
	}
	of := func(ev musicxml.Event, change func(*musicxml.Event)) musicxml.Event {
		change(&ev)
		return ev
	}
	for _, row := range []struct {
		why    string
		events []musicxml.Event
		want   int // -1: none
	}{
		{"a rest", []musicxml.Event{note(0, 4, true)}, 0}, {"the last of two", []musicxml.Event{note(0, 2, true), note(2, 1, true), note(3, 1, true)}, 2}, {"a note held throughout", []musicxml.Event{note(0, 4, false)}, 0},
		{"a note that ends before", []musicxml.Event{note(0, 3, false), note(3, 1, true)}, 1}, {"notes that move", []musicxml.Event{note(2, 1, false), note(3, 1, false)}, -1}, {"a note that ends meanwhile", []musicxml.Event{note(0, 3, false)}, -1},
		{"a note over a rest", []musicxml.Event{note(2, 2, true), note(2, 2, false)}, 1}, {"the note first", []musicxml.Event{note(2, 2, false), note(2, 2, true)}, 0}, {"nothing lasts so long", []musicxml.Event{note(0, 2, true)}, -1},
		{"a chord", []musicxml.Event{note(2, 2, false), of(note(2, 2, false), func(e *musicxml.Event) { e.Chord = true })}, 0}, {"a cue note", []musicxml.Event{of(note(2, 2, false), func(e *musicxml.Event) { e.Cue = true }), note(0, 4, true)}, 1},
		{"a grace note", []musicxml.Event{of(note(2, 0, false), func(e *musicxml.Event) { e.Grace = true }), note(2, 2, false)}, 1}, {"words", []musicxml.Event{{Kind: musicxml.Direction, Onset: musicxml.NewFraction(2, 1)}, note(2, 2, true)}, 1},
	} {
		m := &musicxml.Measure{Events: row.events}
		p := pause{Position: musicxml.Position{Onset: musicxml.NewFraction(2, 1)}, end: musicxml.NewFraction(4, 1)}
		var want *musicxml.Event
		if row.want >= 0 {
			want = &m.Events[row.want]
		}
		assert.Same(t, want, resting(m, p), row.why)
	}
}
