package parts_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// The editions in ../shared/scores/written are what people wrote for the music in
// ../shared/scores/concert (OpenScore Orchestra corpus, CC0): a check from outside
// the project. Spelled pitch must be identical in every part; signature and
// printed accidentals wherever the edition's own signature follows its
// transposition. Here notes and signatures are read by plain code of this file.

// printedNote is a note as the page shows it.
type printedNote struct{ step, alter, octave, accidental string }

// printedBar is what one measure shows.
type printedBar struct {
	number string
	fifths int // in force at the end of the bar
	notes  []printedNote
}

// readPage lists the notes of a part, bar by bar, in document order.
func readPage(t *testing.T, part *etree.Element) []printedBar {
	t.Helper()
	var bars []printedBar
	fifths := 0
	for _, measure := range part.SelectElements("measure") {
		bar := printedBar{number: measure.SelectAttrValue("number", "")}
		for _, e := range measure.ChildElements() {
			for _, key := range e.SelectElements("key") {
				n, err := strconv.Atoi(key.SelectElement("fifths").Text())
				require.NoError(t, err)
				fifths = n
			}
			pitch := e.SelectElement("pitch")
			if e.Tag != "note" || pitch == nil {
				continue
			}
			note := printedNote{step: musicxml.ChildText(pitch, "step"), alter: musicxml.ChildText(pitch, "alter"),
				octave: musicxml.ChildText(pitch, "octave"), accidental: musicxml.ChildText(e, "accidental")}
			if note.alter == "0" {
				note.alter = ""
			}
			bar.notes = append(bar.notes, note)
		}
		bar.fifths = fifths
		bars = append(bars, bar)
	}
	return bars
}

// transposedBy reads the fifths that an edition's <transpose> puts between its
// page and the sound: a written C major sounds as many fifths away (circle of
// fifths: seven semitones up are one fifth; a letter step more is twelve less).
func transposedBy(part *etree.Element) int {
	e := part.FindElement("measure/attributes/transpose")
	if e == nil {
		return 0
	}
	diatonic, _ := strconv.Atoi(musicxml.ChildText(e, "diatonic"))
	chromatic, _ := strconv.Atoi(musicxml.ChildText(e, "chromatic"))
	return 7*chromatic - 12*diatonic
}

func TestPartsOfConcertScoresAgainstEditions(t *testing.T) {
	for _, concert := range musicxmltest.SharedSpread(t, "scores/concert/*.mxl") {
		name := strings.TrimSuffix(filepath.Base(concert), ".concert.mxl")
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			edition := filepath.Join(musicxmltest.SharedDir(t), "scores", "written", name+".mxl")
			made := makeParts(t, concert, parts.DefaultOptions())
			source := readScore(t, concert)
			written := readScore(t, edition)
			require.Len(t, made, len(written.Parts))
			for i, page := range shorthand.PartsOf(t, written) {
				sounding, err := source.ReadPart(i, nil)
				require.NoError(t, err)
				compareWithEdition(t, made[i].name, readPage(t, made[i].part), readPage(t, page), readPage(t, sounding), transposedBy(page))
			}
		})
	}
}

// compareWithEdition compares a part that was made with the edition's. by is
// what the edition's <transpose> says in fifths.
func compareWithEdition(t *testing.T, name string, made, edition, source []printedBar, by int) {
	t.Helper()
	if !assert.Len(t, made, len(edition), "%s: number of bars", name) {
		return
	}
	for i := range edition {
		where := fmt.Sprintf("%s, measure %s", name, edition[i].number)
		follows := edition[i].fifths+by == source[i].fifths && (i == 0 || edition[i-1].fifths+by == source[i-1].fifths)
		if follows {
			assert.Equal(t, edition[i].fifths, made[i].fifths, "%s: signature", where)
		}
		if !assert.Len(t, made[i].notes, len(edition[i].notes), where) {
			continue
		}
		for k := range edition[i].notes {
			want, got := edition[i].notes[k], made[i].notes[k]
			if !follows {
				want.accidental, got.accidental = "", ""
			}
			assert.Equal(t, want, got, "%s, note %d", where, k+1)
		}
	}
}

// madePart is a part that the copyist made.
type madePart struct {
	name  string
	part  *etree.Element
	sheet *parts.Part
}

func readScore(t testing.TB, path string) *musicxml.Score {
	t.Helper()
	score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
	require.NoError(t, err)
	return score
}

// makeParts makes all parts of a score.
func makeParts(t testing.TB, path string, o parts.Options) []madePart {
	t.Helper()
	return makePartsOf(t, readScore(t, path), o)
}

func makePartsOf(t testing.TB, score *musicxml.Score, o parts.Options) []madePart {
	t.Helper()
	job := partstest.Job(t, score, o)
	assignments := job.Assignments()
	var made []madePart
	for i, a := range assignments {
		sheet, err := job.Make(i)
		require.NoError(t, err)
		m := madePart{name: a.Label, sheet: sheet}
		if sheet.Document != nil {
			m.part = sheet.Document.Root().SelectElement("part")
		}
		made = append(made, m)
	}
	return made
}

// TestPartsValidate writes every part of every shared movement and validates it
// against the W3C MusicXML 4.0 schema, where the source validates.
func TestPartsValidate(t *testing.T) {
	few := []string{"scores/concert/Brahms_Op.90_3*", "scores/written/B*_01.mxl", "scores/quartets/sq7093885.mxl", "scores/[sl]*/*.mxl"}
	musicxmltest.EachFile(t, musicxmltest.SharedSample(t, few, scores), func(t *testing.T, path string) {
		dir := t.TempDir()
		score := readScore(t, path)
		trees := make([]*etree.Element, len(score.Parts))
		for i := range trees {
			var err error
			trees[i], err = score.ReadPart(i, nil)
			require.NoError(t, err)
		}
		whole := filepath.Join(dir, "whole.musicxml")
		writeDocument(t, whole, score.Assemble(trees))
		if out, err := musicxmltest.Validate(t, whole); err != nil {
			t.Skipf("the source itself does not validate: %.200s", out)
		}
		var files []string
		for i, m := range makePartsOf(t, readScore(t, path), parts.DefaultOptions()) {
			if m.sheet.Document == nil {
				continue
			}
			file := filepath.Join(dir, fmt.Sprintf("%02d.musicxml", i+1))
			writeDocument(t, file, m.sheet.Document)
			files = append(files, file)
		}
		out, err := musicxmltest.Validate(t, files...)
		assert.NoError(t, err, out)
	})
}

func writeDocument(t testing.TB, path string, doc *etree.Document) {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, musicxml.Write(&b, doc, musicxml.WriteOptions{}))
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o666))
}
