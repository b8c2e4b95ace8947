package explain_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/texts/textstest"
	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/reading"
	"deskpart/transpose/pitch"
)

// heard lists a part's sounding pitches and lengths: as its page is read, or as
// its <pitch> elements say.
func heard(t *testing.T, part *etree.Element, asRead bool) []string {
	t.Helper()
	page, err := reading.Read(part)
	require.NoError(t, err)
	sounds := page.Sounding()
	if asRead {
		sounds = page.SoundingAsRead()
	}
	var list []string
	for _, s := range sounds {
		if !s.Unpitched && !s.Doubling {
			list = append(list, fmt.Sprint(s.MIDI, " ", s.Duration))
		}
	}
	return list
}

// bars keeps some measures of a part, with all attributes before them.
func bars(part *etree.Element, first, last int) *etree.Element {
	out := etree.NewElement("part")
	for i, m := range musicxml.Children(part, "measure") {
		kept := m.Copy()
		switch {
		case i > last:
			return out
		case i < first:
			for _, e := range kept.ChildElements() {
				if e.Tag != "attributes" {
					kept.RemoveChild(e)
				}
			}
		}
		out.AddChild(kept)
	}
	return out
}

// TestExcerptsSoundAsTheScore cuts passages out of real movements and explains
// them: what is given and what is answered sound as the score does there, by the
// page reader, which shares no code with the transposition; and the files validate.
func TestExcerptsSoundAsTheScore(t *testing.T) {
	t.Parallel()
	files := musicxmltest.SharedSpread(t, "scores/written/*.mxl", "scores/concert/*.mxl")
	c := instrumentstest.Load(t)
	var sheets []string
	passages := 0
	for _, file := range files {
		score, err := musicxml.ReadFile(file, musicxml.ReadOptions{SkipFiles: true})
		require.NoError(t, err)
		for i := 0; i < len(score.Parts); i += 5 {
			source, err := score.ReadPart(i, nil)
			require.NoError(t, err)
			measures := musicxml.Children(source, "measure")
			first := len(measures) / 3
			last := min(first+7, len(measures)-1)
			asItIs := 0
			x := explain.Excerpt{Octave: &asItIs, Part: score.Parts[i].ID, First: musicxml.Attr(measures[first], "number"), Last: musicxml.Attr(measures[last], "number")}
			for _, from := range []explain.Side{explain.Sounding, explain.Written} {
				task := explain.Task{Instrument: c.ByID("horn-f"), From: from}
				passage, err := x.Read(score, c, task)
				if err != nil {
					continue // rests, percussion, two staves
				}
				given := passage.Part
				e, err := explain.Explain(task, explain.Passage{Part: given}, textstest.In(t, pitch.English))
				require.NoError(t, err, "%s, %s", file, x.Part)
				// A tie that leads into the passage is cut: what it carried is printed.
				want := heard(t, bars(source, first, last), false)
				assert.Equal(t, want, heard(t, given, true), "%s, %s, given %s", filepath.Base(file), x.Part, from)
				assert.Equal(t, want, heard(t, e.Solution.Answer, true), "%s, %s, answered from %s", filepath.Base(file), x.Part, from)
				passages++
				sheets = append(sheets, writeSheet(t, e.Solution.Given), writeSheet(t, e.Solution.Answer))
			}
		}
	}
	assert.Greater(t, passages, 4)
	out, err := musicxmltest.Validate(t, sheets...)
	assert.NoError(t, err, invalid(out))
	t.Logf("%d passages", passages)
}

// invalid keeps the lines of the validator that complain.
func invalid(out string) string {
	var lines []string
	for _, line := range strings.Split(out, "\n") {
		if !strings.HasSuffix(line, " validates") {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines[:min(len(lines), 20)], "\n")
}

func writeSheet(t *testing.T, part *etree.Element) string {
	t.Helper()
	data, err := explain.Sheet{Title: "Passage", Staves: []explain.SheetStaff{{Name: "Horn in F", Part: part}},
		Fields: []explain.Field{{Name: "deskpart-exercise", Value: "1"}}}.Bytes()
	require.NoError(t, err)
	file, err := os.CreateTemp(t.TempDir(), "*.musicxml")
	require.NoError(t, err)
	_, err = file.Write(data)
	require.NoError(t, err)
	require.NoError(t, file.Close())
	return file.Name()
}

// TestExcerptSuitsItsPlayer: what is taken from a score for an instrument lies in its
// range, moved by whole octaves that are told; no signature is cancelled at its
// beginning, and its tempo goes along.
func TestExcerptSuitsItsPlayer(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	score, err := musicxml.ReadFile("../../../examples/lanterns-on-the-quay.musicxml", musicxml.ReadOptions{SkipFiles: true})
	require.NoError(t, err)
	for _, row := range []struct {
		instrument, part string
		moved            bool
	}{
		{"baritone-saxophone-eflat", "Flute", true}, {"flute", "Flute", false}, {"piccolo", "Violoncello", true}, {"horn-f", "Oboe", false},
	} {
		task := explain.Task{Instrument: c.ByID(row.instrument), From: explain.Sounding}
		passage, err := explain.Excerpt{Part: row.part, First: "1", Last: "8"}.Read(score, c, task)
		if err != nil {
			t.Logf("%s: %v", row.part, err)
			continue
		}
		assert.Equal(t, row.moved, passage.Octaves != 0, row.instrument)
		solution, err := task.Solve(passage.Part)
		require.NoError(t, err)
		r, _ := task.Instrument.Range(instruments.Professional)
		outside := 0
		for _, p := range solution.Pairs {
			if !r.Written.Contains(p.To.NoteNumber()) {
				outside++
			}
		}
		assert.LessOrEqual(t, 10*outside, len(solution.Pairs), row.instrument)
		assert.Empty(t, passage.Part.FindElements("measure[1]/attributes/key/cancel"))
	}
}

// TestExcerptHasItsTempo: the tempo in force where a passage begins, by its sound or
// its metronome mark.
func TestExcerptHasItsTempo(t *testing.T) {
	t.Parallel()
	const text = `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Flute</part-name></score-part></part-list><part id="P1">
<measure number="1"><attributes><divisions>1</divisions><key><cancel>2</cancel><fifths>1</fifths></key><time><beats>6</beats><beat-type>8</beat-type></time></attributes><direction><direction-type><metronome><beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>60</per-minute></metronome></direction-type></direction><note><pitch><step>G</step><octave>4</octave></pitch><duration>3</duration></note></measure>
<measure number="2"><note><pitch><step>G</step><octave>4</octave></pitch><duration>3</duration></note></measure>
<measure number="3"><direction><direction-type><words>Adagio</words></direction-type><sound tempo="48"/></direction><note><pitch><step>G</step><octave>4</octave></pitch><duration>3</duration></note></measure></part></score-partwise>`
	c := instrumentstest.Load(t)
	score, err := musicxml.Read([]byte(text), musicxml.ReadOptions{})
	require.NoError(t, err)
	for measures, want := range map[string]string{"1": "90", "2": "90", "3": "48"} {
		passage, err := explain.Excerpt{First: measures, Last: measures}.Read(score, c, explain.Task{Instrument: c.ByID("flute"), From: explain.Sounding})
		require.NoError(t, err)
		sound := passage.Part.FindElement("measure/sound")
		require.NotNil(t, sound, measures)
		assert.Equal(t, want, sound.SelectAttrValue("tempo", ""), measures)
		assert.Nil(t, passage.Part.FindElement("measure/attributes/key/cancel"))
		assert.Equal(t, "1", passage.Part.FindElement("measure/attributes/key/fifths").Text())
	}
}
