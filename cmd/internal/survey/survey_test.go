package survey_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/survey"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
	"deskpart/musicxml/parts/plan"
	"deskpart/transpose/pitch"
)

// surveyOf surveys a score as the command does.
func surveyOf(t *testing.T, path string, o parts.Options) (survey.Score, *musicxml.Score, error) {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	score, err := musicxml.Read(data, musicxml.ReadOptions{Name: path})
	if err != nil {
		return survey.Score{}, nil, err
	}
	surveyed, err := parts.Survey(score, instrumentstest.Load(t), o)
	if err != nil {
		return survey.Score{}, nil, err
	}
	job, err := surveyed.Assign()
	require.NoError(t, err)
	s := survey.OfScore(surveyed, score, path, data)
	for i := range job.Assignments() {
		s.Parts = append(s.Parts, survey.OfPart(job, i, nil))
	}
	return s, score, nil
}

// countNotes counts a part's notes, cues left out, and finds its outermost written
// pitches by plain code of this test.
func countNotes(t *testing.T, part *etree.Element) (notes int, lowest, highest pitch.Alter) {
	t.Helper()
	first := true
	for _, note := range part.FindElements("measure/note") {
		if note.SelectElement("rest") != nil || note.SelectElement("cue") != nil {
			continue
		}
		notes++
		if e := note.SelectElement("pitch"); e != nil {
			p, err := music.ReadPitch(e)
			require.NoError(t, err)
			if first || p.MIDI() < lowest {
				lowest = p.MIDI()
			}
			if first || p.MIDI() > highest {
				highest = p.MIDI()
			}
			first = false
		}
	}
	return notes, lowest, highest
}

// Every shared file is surveyed or refused; what is counted is right, every part
// has an instrument or says that it has none, and the text can be written.
func TestSurveyOfEveryFile(t *testing.T) {
	t.Parallel()
	refused := map[string]bool{"11b-TimeSignatures-NoTime.xml": true, "32ad-Notations5.musicxml": true}
	musicxmltest.EachFile(t, musicxmltest.SharedFiles(t, "scores/*/*", "testsuite/xmlFiles/*"), func(t *testing.T, path string) {
		s, score, err := surveyOf(t, path, parts.DefaultOptions())
		if refused[filepath.Base(path)] {
			require.Error(t, err)
			return
		}
		require.NoError(t, err)
		require.Len(t, s.Parts, len(score.Parts))
		for i, p := range s.Parts {
			tree, err := score.ReadPart(i, nil)
			require.NoError(t, err)
			notes, lowest, highest := countNotes(t, tree)
			assert.Equal(t, notes, p.Notes, p.Name)
			if p.LowestSounding != "" && p.Changes == nil && !strings.Contains(p.LowestSounding+p.HighestSounding, "(") {
				low, err := pitch.Parse(p.LowestSounding)
				require.NoError(t, err)
				high, err := pitch.Parse(p.HighestSounding)
				require.NoError(t, err)
				by := pitch.Semitones(p.Transpose.Interval().Chromatic)
				assert.Equal(t, lowest+by, low.MIDI(), p.Name)
				assert.Equal(t, highest+by, high.MIDI(), p.Name)
			}
			assert.True(t, p.Instrument != "" || says(p, "unrecognised-part") || p.RecognisedBy != parts.ByNone, "%s has no instrument and says nothing", p.Name)
		}
		var text bytes.Buffer
		require.NoError(t, s.WriteText(&text, path, nil, func(s string) string { return s }))
		assert.Contains(t, text.String(), s.Version)
	})
}

func says(p survey.Part, code string) bool {
	for _, w := range p.Warnings {
		if string(w.Code) == code {
			return true
		}
	}
	return false
}

// A plan that survey wrote, unchanged, leads to the same parts as no plan.
func TestPlanOfSurveyChangesNothing(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob(filepath.Join(musicxmltest.ProjectRoot(t), "examples", "*.musicxml"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	files = append(files, musicxmltest.SharedFiles(t, "scores/concert/Haydn_104_1.concert.mxl", "scores/written/Brahms_Op.98_4.mxl",
		"scores/quartets/sq7093885.mxl", "scores/songs/3_Heidenr_slein__D.257.mxl", "scores/leadsheets/Over_There.mxl")...)
	musicxmltest.EachFile(t, files, func(t *testing.T, path string) {
		o := parts.DefaultOptions()
		s, _, err := surveyOf(t, path, o)
		require.NoError(t, err)
		without := makeAll(t, path, o)
		var table bytes.Buffer
		require.NoError(t, plan.Write(&table, survey.PlanRows([]survey.Score{s})))
		o.Plan, err = plan.Read(&table)
		require.NoError(t, err)
		with := makeAll(t, path, o)
		require.Len(t, with, len(without))
		for i := range with {
			assert.True(t, without[i] == with[i], s.Parts[i].Name)
		}
	})
}

// makeAll makes all parts of a score, as text.
func makeAll(t *testing.T, path string, o parts.Options) []string {
	t.Helper()
	score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
	require.NoError(t, err)
	job := partstest.Job(t, score, o)
	require.Empty(t, job.Missing())
	var texts []string
	for i := range job.Assignments() {
		sheet, err := job.Make(i)
		require.NoError(t, err)
		texts = append(texts, string(musicxml.Append(nil, sheet.Document, musicxml.WriteOptions{})))
	}
	return texts
}

func TestWarningWords(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "measure 3, beat 2: too high", survey.WarningWords(nil, musicxml.Warning{Measure: "3", Beat: "2", Text: "too high"}))
	assert.Equal(t, "measure 3: too high", survey.WarningWords(nil, musicxml.Warning{Measure: "3", Text: "too high"}))
	assert.Equal(t, "too high", survey.WarningWords(nil, musicxml.Warning{Text: "too high"}))
}
