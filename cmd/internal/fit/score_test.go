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
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// A scoredPart is a part of a score to be tested: its name, what its <transpose>
// says ("-1 -2 0"; "" for none), its key, and its music as package shorthand has it.
type scoredPart struct {
	name, transpose string
	fifths          int
	music           string
}

// scoreText is a score of parts as MusicXML.
func scoreText(t testing.TB, all ...scoredPart) []byte {
	t.Helper()
	var entries []shorthand.Entry
	for _, p := range all {
		opening := fmt.Sprintf("[key %d] ", p.fifths)
		if p.transpose != "" {
			opening += "[transpose " + p.transpose + "] "
		}
		entries = append(entries, shorthand.Entry{Name: p.name, Instruments: []string{p.name}, Music: opening + p.music})
	}
	return shorthand.Score(t, entries...)
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
	job := partstest.Job(t, score, o)
	return &opened{job, job.Assignments(), score}
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
		sign := map[string]string{"": "", "0": "", "1": "#", "-1": "b", "2": "##", "-2": "bb"}[musicxml.ChildText(pitch, "alter")]
		name := musicxml.ChildText(pitch, "step") + sign + musicxml.ChildText(pitch, "octave")
		if note.SelectElement("chord") != nil {
			words[len(words)-1] += "+" + name
			continue
		}
		words = append(words, name)
	}
	return strings.Join(words, " ")
}
