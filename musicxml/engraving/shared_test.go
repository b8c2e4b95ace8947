package engraving_test

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/notate"
	"deskpart/musicxml/musicxmltest"
)

// readers differ from <pitch> in these files, for the reason given: there the
// page itself does not say what the file sounds.
var unlikePitch = map[string]string{
	"01d-Pitches-Microtones.xml":               "prints no accidentals at its microtones",
	"01g-Pitches-AllArrowAccidentals.musicxml": "has accidentals without <alter>",
	"01h-Pitches-TurkishPersian.musicxml":      "has accidentals without <alter>",
	"13a-KeySignatures.xml":                    "has C without accidental in every key",
	"13aa-KeySignatures-Extreme.xml":           "has C without accidental in every key",
	"13ab-KeySignatures-Cancel.xml":            "has C without accidental in every key",
	"13ac-KeySignatures-Octaves.xml":           "has C without accidental in every key",
	"13c-KeySignatures-NonTraditional.xml":     "has C without accidental in every key",
	"13e-KeySignatures-MidMeasure-Change.xml":  "has G without accidental in seven sharps",
	"21f-Chord-ElementInBetween.xml":           "has F sharp without accidental or signature",
	"32c-MultipleNotationChildren.xml":         "has a sharp without <alter>",
	"12ac-Clefs-TAB-Switch.xml":                "has tablature, where places are strings",
	"22b-Staff-Notestyles.xml":                 "has slashes in the place of notes",
	"71e-TabStaves.xml":                        "has tablature, where places are strings",
	"11b-TimeSignatures-NoTime.xml":            "backs up before its bar",
	"32ad-Notations5.musicxml":                 "is not well-formed",
}

// oneBar is a bar whose accidental stands at a note that is not printed.
var oneBar = struct {
	file, part string
	bar        int
}{"sq7267316.mxl", "P3", 947}

// Every note of the test suite and of real movements (all of them under
// DESKPART_EVERY_SCORE) is drawn where a reader finds the pitch that the file says.
func TestRealMusicIsReadBack(t *testing.T) {
	t.Parallel()
	notes, drawn := 0, map[string]bool{}
	files := musicxmltest.SharedSample(t, []string{"testsuite/xmlFiles/*", "scores/songs/*", "scores/written/Brahms_Op.90_3.mxl"}, []string{"testsuite/xmlFiles/*", "scores/*/*"})
	for _, file := range files {
		name := filepath.Base(file)
		drawn[name] = true
		if unlikePitch[name] != "" {
			continue
		}
		score, err := musicxml.ReadFile(file, musicxml.ReadOptions{})
		require.NoError(t, err)
		for i, sp := range score.ScoreParts() {
			part, err := score.ReadPart(i, nil)
			require.NoError(t, err)
			notes += comparePart(t, part, name, sp.ID)
		}
	}
	assert.Greater(t, notes, musicxmltest.Sweep(10000, 100000), "the corpus has more notes than that")
	for name := range unlikePitch {
		assert.True(t, drawn[name], "%s is no file of the suite", name)
	}
}

// The excepted files, too, are drawn and can be read; only pitches differ.
func TestExceptedFilesAreDrawn(t *testing.T) {
	t.Parallel()
	for _, file := range musicxmltest.SharedFiles(t, "testsuite/xmlFiles/*") {
		why := unlikePitch[filepath.Base(file)]
		if why == "" || strings.HasPrefix(why, "is not") || strings.HasPrefix(why, "backs up") || strings.HasPrefix(why, "has tab") {
			continue
		}
		score, err := musicxml.ReadFile(file, musicxml.ReadOptions{})
		require.NoError(t, err)
		part, err := score.ReadPart(0, nil)
		require.NoError(t, err)
		m, err := notate.Part(part, notate.Options{})
		require.NoError(t, err)
		d, err := engraving.Draw(m, engraving.Options{})
		require.NoError(t, err)
		assert.NotEmpty(t, pitchesIn(t, d), file)
	}
}
