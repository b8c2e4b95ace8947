package verify_test

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
	"deskpart/transpose/verify"
)

// surveyOf reads and surveys a score, skipping the test where it is refused.
func surveyOf(t *testing.T, score *musicxml.Score, input parts.Input) *parts.Surveyed {
	t.Helper()
	o := parts.DefaultOptions()
	o.Input = input
	catalogue := instrumentstest.Load(t)
	s, err := parts.Survey(score, catalogue, o)
	if err != nil {
		t.Skip(err)
	}
	return s
}

func along(t *testing.T, s *parts.Surveyed) [][]verify.Finding {
	t.Helper()
	found, err := verify.Conversion(s, func(between *musicxml.Score) (*parts.Surveyed, error) {
		return surveyOf(t, between, parts.Auto), nil
	})
	require.NoError(t, err)
	return found
}

var transposeElement = regexp.MustCompile(`(?s)<transpose.*?</transpose>\s*`)

// TestScoresComeBack converts whole scores both ways: as they are, and those in written
// pitch also with every <transpose> taken out.
func TestScoresComeBack(t *testing.T) {
	patterns := []string{"scores/songs/[12]*.mxl", "scores/leadsheets/[AF]*.mxl", "scores/written/Haydn_104_1.mxl", "scores/concert/Haydn_104_1.concert.mxl",
		"testsuite/xmlFiles/[01247]*.xml"}
	if os.Getenv(musicxmltest.EveryScore) == "1" {
		patterns = []string{"scores/*/*.mxl", "testsuite/xmlFiles/*.xml", "testsuite/xmlFiles/*.musicxml"}
	}
	musicxmltest.EachFile(t, musicxmltest.SharedFiles(t, patterns...), func(t *testing.T, path string) {
		score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
		if err != nil {
			t.Skip(err)
		}
		for i, found := range along(t, surveyOf(t, score, parts.Auto)) {
			assert.Empty(t, found, "part %d", i+1)
		}
		if filepath.Base(filepath.Dir(path)) != "written" {
			return
		}
		unsaid := surveyOf(t, withoutTransposition(t, score), parts.Written)
		for i, found := range along(t, unsaid) {
			assert.Empty(t, found, "part %d, its transposition unsaid", i+1)
		}
	})
}

// withoutTransposition takes every <transpose> out of a score.
func withoutTransposition(t *testing.T, score *musicxml.Score) *musicxml.Score {
	t.Helper()
	doc := score.NewDocument()
	for _, part := range shorthand.PartsOf(t, score) {
		doc.Root().AddChild(part)
	}
	text := transposeElement.ReplaceAll(musicxml.Append(nil, doc, musicxml.NoteALine), nil)
	unsaid, err := musicxml.Read(text, musicxml.ReadOptions{})
	require.NoError(t, err)
	return unsaid
}

// TestRoadFindsWhatDoesNotComeBack: a score that is another one on the way back.
func TestRoadFindsWhatDoesNotComeBack(t *testing.T) {
	t.Parallel()
	const score = `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Clarinet in Bb</part-name></score-part></part-list>` +
		`<part id="P1"><measure number="1"><attributes><divisions>1</divisions><key><fifths>2</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time>` +
		`<clef><sign>G</sign><line>2</line></clef><transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose></attributes>` +
		`<note><pitch><step>D</step><octave>5</octave></pitch><duration>4</duration><voice>1</voice><type>whole</type></note></measure></part></score-partwise>`
	read := func(text string) *musicxml.Score {
		s, err := musicxml.Read([]byte(text), musicxml.ReadOptions{})
		require.NoError(t, err)
		return s
	}
	source := surveyOf(t, read(score), parts.Auto)
	for _, found := range along(t, source) {
		assert.Empty(t, found)
	}
	other := regexp.MustCompile(`<step>D`).ReplaceAllString(score, "<step>E")
	found, err := verify.Conversion(source, func(*musicxml.Score) (*parts.Surveyed, error) { return surveyOf(t, read(other), parts.Auto), nil })
	require.NoError(t, err)
	require.Len(t, found, 1)
	require.NotEmpty(t, found[0])
	assert.Contains(t, found[0][0].Text, "by way of a score in concert pitch: E5 in place of D5")
}
