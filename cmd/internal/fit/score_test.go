package fit_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/fit"
	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts"
	"deskpart/transpose/pitch"
)

// A scoredPart is a part of a score to be tested: its name, what its <transpose>
// says ("-1 -2 0"; "" for none), its key, and its music in a shorthand.
//
// A word is a quarter note, "C5" or "F#4"; "E5+G4" is a chord; "r" a quarter rest,
// "R" a bar of rest; a bar line is "|". Behind a note, "(" begins a slur and ")" ends
// one, "[" and "]" do the same with a beam, "~" ties it to the next note, "'" is a
// breath mark after it. The words of a technique stand before it, with a line for a space: "con_sord.:C5".
type scoredPart struct {
	name, transpose string
	fifths          int
	music           string
}

// scoreText writes a score in the shorthand as MusicXML.
func scoreText(t testing.TB, all ...scoredPart) string {
	t.Helper()
	var list, body strings.Builder
	for i, p := range all {
		id := fmt.Sprintf("P%d", i+1)
		fmt.Fprintf(&list, `<score-part id="%s"><part-name>%s</part-name><score-instrument id="%s-I1"><instrument-name>%s</instrument-name></score-instrument>`+
			`<midi-instrument id="%s-I1"><midi-channel>1</midi-channel><midi-program>1</midi-program></midi-instrument></score-part>`, id, p.name, id, p.name, id)
		fmt.Fprintf(&body, `<part id="%s">%s</part>`, id, p.measures(t))
	}
	return `<?xml version="1.0" encoding="UTF-8"?><score-partwise version="4.0"><part-list>` + list.String() + `</part-list>` + body.String() + `</score-partwise>`
}

func (p scoredPart) measures(t testing.TB) string {
	t.Helper()
	var b strings.Builder
	tied := false
	for i, bar := range strings.Split(p.music, "|") {
		fmt.Fprintf(&b, `<measure number="%d">`, i+1)
		if i == 0 {
			fmt.Fprintf(&b, `<attributes><divisions>1</divisions><key><fifths>%d</fifths></key>%s</attributes>`, p.fifths, transposeText(t, p.transpose))
		}
		for _, word := range strings.Fields(bar) {
			b.WriteString(wordText(t, word, &tied))
		}
		b.WriteString(`</measure>`)
	}
	return b.String()
}

func transposeText(t testing.TB, numbers string) string {
	t.Helper()
	if numbers == "" {
		return ""
	}
	var diatonic, chromatic, octaves int
	_, err := fmt.Sscan(numbers, &diatonic, &chromatic, &octaves)
	require.NoError(t, err)
	text := fmt.Sprintf("<transpose><diatonic>%d</diatonic><chromatic>%d</chromatic>", diatonic, chromatic)
	if octaves != 0 {
		text += fmt.Sprintf("<octave-change>%d</octave-change>", octaves)
	}
	return text + "</transpose>"
}

// wordText writes one word of the shorthand.
func wordText(t testing.TB, word string, tied *bool) string {
	t.Helper()
	text := ""
	if words, note, ok := strings.Cut(word, ":"); ok {
		text, word = `<direction><direction-type><words>`+strings.ReplaceAll(words, "_", " ")+`</words></direction-type></direction>`, note
	}
	switch word {
	case "r":
		return text + `<note><rest/><duration>1</duration><voice>1</voice><type>quarter</type></note>`
	case "R":
		return text + `<note><rest measure="yes"/><duration>4</duration><voice>1</voice></note>`
	}
	pitches := strings.TrimRight(word, "()[]~'")
	marks := word[len(pitches):]
	for i, name := range strings.Split(pitches, "+") {
		p, err := pitch.Parse(name)
		require.NoError(t, err, word)
		text += noteText(p, marks, i > 0, *tied)
	}
	*tied = strings.Contains(marks, "~")
	return text
}

func noteText(p pitch.Pitch, marks string, chord, tied bool) string {
	e := etree.NewElement("pitch")
	_ = music.WritePitch(e, p)
	var b strings.Builder
	b.WriteString("<note>")
	if chord {
		b.WriteString("<chord/>")
	}
	fmt.Fprintf(&b, "<pitch><step>%s</step>", p.Step)
	if p.Alter != 0 {
		fmt.Fprintf(&b, "<alter>%s</alter>", p.Alter)
	}
	fmt.Fprintf(&b, "<octave>%d</octave></pitch><duration>1</duration>", p.Octave)
	notations := ""
	if tied {
		b.WriteString(`<tie type="stop"/>`)
		notations += `<tied type="stop"/>`
	}
	if strings.Contains(marks, "~") {
		b.WriteString(`<tie type="start"/>`)
		notations += `<tied type="start"/>`
	}
	b.WriteString("<voice>1</voice><type>quarter</type>")
	if strings.Contains(marks, "[") {
		b.WriteString(`<beam number="1">begin</beam>`)
	}
	if strings.Contains(marks, "]") {
		b.WriteString(`<beam number="1">end</beam>`)
	}
	if strings.Contains(marks, "(") && !chord {
		notations += `<slur type="start" number="1"/>`
	}
	if strings.Contains(marks, ")") && !chord {
		notations += `<slur type="stop" number="1"/>`
	}
	if strings.Contains(marks, "'") {
		notations += `<articulations><breath-mark/></articulations>`
	}
	if notations != "" {
		b.WriteString("<notations>" + notations + "</notations>")
	}
	return b.String() + "</note>"
}

// opened is a score that has been surveyed, as the commands have it.
type opened struct {
	job         *parts.Job
	assignments []parts.Assignment
	score       *musicxml.Score
}

func open(t testing.TB, text []byte, level instruments.Level) *opened {
	t.Helper()
	score, err := musicxml.Read(text, musicxml.ReadOptions{})
	require.NoError(t, err)
	o := parts.DefaultOptions()
	o.Players, o.Level, o.RestBars = true, level, 0
	surveyed, err := parts.Survey(score, instrumentstest.Load(t), o)
	require.NoError(t, err)
	job, err := surveyed.Assign()
	require.NoError(t, err)
	assignments := job.Assignments()
	return &opened{job, assignments, score}
}

// reassign gives the first part of a score to another instrument.
func (o *opened) reassign(t testing.TB, n int, to, octave string, level instruments.Level) *fit.Reassignment {
	t.Helper()
	in, err := fit.FindInstrument(instrumentstest.Load(t), to)
	require.NoError(t, err)
	r, err := fit.Reassign(o.job, n, in, octave, "", level, nil)
	require.NoError(t, err)
	return r
}

// writtenNotes lists the pitches of a part as they stand in the document, rests
// left out; by plain code of the test.
func writtenNotes(document *etree.Document) string {
	var words []string
	for _, note := range document.FindElements("//part/measure/note") {
		pitch := note.SelectElement("pitch")
		if pitch == nil {
			continue
		}
		sign := map[string]string{"": "", "0": "", "1": "#", "-1": "b", "2": "##", "-2": "bb"}[text(pitch, "alter")]
		name := text(pitch, "step") + sign + text(pitch, "octave")
		if note.SelectElement("chord") != nil {
			words[len(words)-1] += "+" + name
			continue
		}
		words = append(words, name)
	}
	return strings.Join(words, " ")
}

func text(e *etree.Element, tag string) string {
	if c := e.SelectElement(tag); c != nil {
		return strings.TrimSpace(c.Text())
	}
	return ""
}
