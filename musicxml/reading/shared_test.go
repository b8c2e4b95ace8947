package reading_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/reading"
)

// TestEditionsReadAsWritten holds the rules against what human editors print:
// every note of the shared editions is read as its <pitch> says.
func TestEditionsReadAsWritten(t *testing.T) {
	t.Parallel()
	// Places where an edition prints no sign that a player could see.
	known := map[string][]string{
		"sq7267316.mxl": { // the flat stands on a hidden note, written out for the trill's sound
			"measure 278, beat 2.125: B3 for Bb3",
			"measure 278, beat 2.625: B3 for Bb3",
		},
	}
	musicxmltest.EachFile(t, musicxmltest.SharedFiles(t, "scores/*/*.mxl"), func(t *testing.T, file string) {
		assert.Equal(t, known[filepath.Base(file)], misread(t, file))
	})
}

func misread(t *testing.T, file string) []string {
	t.Helper()
	var list []string
	for _, part := range parts(t, file) {
		p, err := reading.Read(part)
		require.NoError(t, err)
		for _, m := range p.Mismatches() {
			list = append(list, fmt.Sprintf("measure %s, beat %s: %s for %s", m.Measure, m.Beat, m.Read, m.Written))
		}
	}
	return list
}

// TestTestSuite reads every file of the test suite. Those that are not about
// accidentals often leave them out or put them at notes without <alter>.
func TestTestSuite(t *testing.T) {
	t.Parallel()
	known := map[string]struct {
		count int
		why   string
	}{
		"01d-Pitches-Microtones.xml":               {8, "alterations without signs"},
		"01g-Pitches-AllArrowAccidentals.musicxml": {10, "signs at notes without <alter>"},
		"13a-KeySignatures.xml":                    {16, "C natural under every signature, without signs"},
		"13aa-KeySignatures-Extreme.xml":           {10, "the same"},
		"13ab-KeySignatures-Cancel.xml":            {3, "the same"},
		"13ac-KeySignatures-Octaves.xml":           {2, "the same"},
		"13c-KeySignatures-NonTraditional.xml":     {1, "the same"},
		"13e-KeySignatures-MidMeasure-Change.xml":  {1, "G natural under three sharps, without a sign"},
		"21f-Chord-ElementInBetween.xml":           {1, "F sharp without a sign"},
		"32c-MultipleNotationChildren.xml":         {3, "sharp signs at A natural"},
	}
	for _, file := range musicxmltest.SharedFiles(t, "testsuite/xmlFiles/*.xml", "testsuite/xmlFiles/*.musicxml") {
		name := filepath.Base(file)
		switch {
		case strings.HasPrefix(name, "11b"): // goes back before its bar
		case strings.HasPrefix(name, "32ad"): // not well-formed
		default:
			assert.Len(t, misread(t, file), known[name].count, "%s: %s", name, known[name].why)
		}
	}
}

// TestSoundOfConcertAndWrittenScores: the concert scores were made from the
// editions by plain arithmetic, so every part must sound the same in both.
func TestSoundOfConcertAndWrittenScores(t *testing.T) {
	t.Parallel()
	musicxmltest.EachFile(t, musicxmltest.SharedFiles(t, "scores/concert/*.mxl"), func(t *testing.T, file string) {
		dir, name := filepath.Split(file)
		written := filepath.Join(dir, "..", "written", strings.Replace(name, ".concert", "", 1))
		concert, edition := parts(t, file), parts(t, written)
		require.Equal(t, len(edition), len(concert))
		for i := range concert {
			a, err := reading.Read(edition[i])
			require.NoError(t, err)
			b, err := reading.Read(concert[i])
			require.NoError(t, err)
			assert.Empty(t, reading.Compare(a.Sounding(), b.Sounding()), "part %d", i+1)
		}
	})
}

// TestClockAgainstTimeline holds this package's plain addition against the
// timeline of package musicxml: two separate computations of every onset.
func TestClockAgainstTimeline(t *testing.T) {
	t.Parallel()
	files := musicxmltest.SharedFiles(t, "scores/songs/*.mxl", "scores/quartets/*.mxl", "scores/written/Haydn*.mxl", "testsuite/xmlFiles/*.xml")
	for _, file := range files {
		for i, part := range parts(t, file) {
			timeline, wantErr := musicxml.NewTimeline(part)
			p, err := reading.Read(part)
			if wantErr != nil || err != nil {
				assert.Equal(t, wantErr != nil, err != nil, "%s part %d: %v and %v", file, i+1, wantErr, err)
				continue
			}
			type place struct{ onset, start, duration musicxml.Fraction }
			want := map[any]place{}
			for _, m := range timeline.Measures {
				for _, e := range m.Events {
					if e.Kind == musicxml.Note && !e.Rest {
						want[e.Element] = place{e.Onset, m.Start.Add(e.Onset), e.Duration}
					}
				}
			}
			require.Len(t, p.Notes, len(want), "%s part %d", file, i+1)
			for _, n := range p.Notes {
				assert.Equal(t, want[n.Element], place{n.Onset, n.Start, n.Duration}, "%s part %d, measure %s", file, i+1, n.Measure)
			}
		}
	}
}

// TestExamples: what a newcomer runs first is printed as a player reads it,
// with no sign too many, and is valid.
func TestExamples(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob(filepath.Join(musicxmltest.ProjectRoot(t), "examples", "*.musicxml"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		assert.Empty(t, misread(t, file), file)
		for _, part := range parts(t, file) {
			p, err := reading.Read(part)
			require.NoError(t, err)
			assert.Empty(t, p.Needless(), file)
		}
	}
	out, err := musicxmltest.Validate(t, files...)
	assert.NoError(t, err, out)
}
