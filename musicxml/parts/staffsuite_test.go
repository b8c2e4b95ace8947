package parts_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/reading"
)

// suiteParts makes the parts of a file of the test suite. player is the name that
// the parts are given in place of the file's "MusicXML Part", or the catalogue's id
// of an instrument that a plan gives them to; "" leaves them as they are.
func suiteParts(t *testing.T, file, player string) []madePart {
	t.Helper()
	found := musicxmltest.SharedFiles(t, "testsuite/xmlFiles/"+file+"*")
	require.Len(t, found, 1)
	data, err := os.ReadFile(found[0])
	require.NoError(t, err)
	o := parts.DefaultOptions()
	o.RestBars = 0
	switch {
	case player == "":
	case player == strings.ToLower(player):
		o.Plan = []parts.PlanRow{{Part: "*", Instrument: player}}
	default:
		data = bytes.ReplaceAll(data, []byte("<part-name>MusicXML Part<"), []byte("<part-name>"+player+"<"))
	}
	score, err := musicxml.Read(data, musicxml.ReadOptions{})
	require.NoError(t, err)
	return makePartsOf(t, score, o)
}

// The files of the unofficial MusicXML test suite (MIT licence) that show clefs,
// staves, octave lines and grace notes. Expectations are worked by hand from what
// each file says of itself; a clarinet in B flat writes a step higher, a horn in F
// a fifth, an alto saxophone a sixth.
func TestStavesOfTheTestSuite(t *testing.T) {
	t.Parallel()
	for _, row := range musicxmltest.ReadTable(t, "testdata/staves.csv") {
		t.Run(row["file"]+" "+row["instrument"], func(t *testing.T) {
			t.Parallel()
			assert.Equal(t, row["want"], shorthand.ReadStaff(suiteParts(t, row["file"], row["instrument"])[0].part), row["why"])
		})
	}
}

// 24a: grace notes of many kinds keep their beams and their order; the suite's
// file has no stems, and none are added.
func TestGraceNotesOfTheTestSuite(t *testing.T) {
	t.Parallel()
	made := suiteParts(t, "24a", "Alto Saxophone")[0]
	assert.Empty(t, made.part.FindElements(".//stem"))
	assert.Equal(t, "treble g!B5 A5 g!C#6{ g!B5} A5 g!B5 A5 g!B5 A5 | g!B5 A5 g!C#6{ g!B5} A5 g!B5 A5{ g!B5 A5} g!C#6 | "+
		"g!C#6 D5 +A5 g!B#5 A5 g!Bb5 g!F5 A5 A5", shorthand.ReadStaff(made.part))
}

// 33d: 15ma and 8va keep the heads of F sharp 7 and F sharp 6 near the staff and
// stay, said to the player; 15mb over A3 and G sharp 3 (two ledger lines) and 8vb
// over G sharp 4 and A4 go.
func TestOctaveLinesOfTheTestSuite(t *testing.T) {
	t.Parallel()
	made := suiteParts(t, "33d", "alto-saxophone-eflat")[0]
	assert.Equal(t, "treble F#5{ A5- F#7- A3} G#3{ F#6} F#6{ G#4- A4}", shorthand.ReadStaff(made.part))
	var left []string
	for _, e := range made.part.FindElements(".//octave-shift") {
		left = append(left, e.SelectAttrValue("type", "")+e.SelectAttrValue("size", ""))
	}
	assert.Equal(t, []string{"down15", "stop15", "down8", "stop8"}, left)
	assert.Equal(t, []string{"1:2", "1:3.5"}, warned(made, "octave-line"))
	assert.Len(t, suiteParts(t, "33d", "piano")[0].part.FindElements(".//octave-shift"), 8, "keyboards keep them all")
}

// 22a: every notehead stays what it is; the shape-note fourth has no stem to
// follow in this file.
func TestNoteheadsOfTheTestSuite(t *testing.T) {
	t.Parallel()
	read := func(made madePart) (heads []string) {
		for _, e := range made.part.FindElements(".//notehead") {
			heads = append(heads, e.Text()+" "+e.SelectAttrValue("filled", ""))
		}
		return heads
	}
	kept := read(suiteParts(t, "22a", "")[0])
	require.Greater(t, len(kept), 50)
	assert.Equal(t, kept, read(suiteParts(t, "22a", "alto-saxophone-eflat")[0]))
}

// 71c, 71d, 71e: frames and tablature of an unmoved part stay to the last fret;
// tablature stems too.
func TestFretsOfTheTestSuite(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		file string
		tags []string
	}{
		{"71c", []string{"frame", "frame-note", "first-fret", "fingering"}},
		{"71d", []string{"frame", "frame-note"}},
		{"71e", []string{"clef", "staff-tuning", "staff-lines", "string", "fret", "stem"}},
	} {
		source := readScore(t, musicxmltest.SharedFiles(t, "testsuite/xmlFiles/"+row.file+"*")[0])
		for i, made := range suiteParts(t, row.file, "") {
			whole, err := source.ReadPart(i, nil)
			require.NoError(t, err)
			for _, tag := range row.tags {
				assert.Len(t, made.part.FindElements(".//"+tag), len(whole.FindElements(".//"+tag)), "%s of %s, part %d", tag, filepath.Base(row.file), i+1)
			}
		}
	}
}

// 75a: sixteen registrations for the accordion; none for a flute, which is said
// bar by bar.
func TestRegistrationsOfTheTestSuite(t *testing.T) {
	t.Parallel()
	assert.Len(t, suiteParts(t, "75a", "")[0].part.FindElements(".//accordion-registration"), 16)
	assert.Len(t, suiteParts(t, "75a", "accordion")[0].part.FindElements(".//accordion-registration"), 16)
	flute := suiteParts(t, "75a", "flute")[0]
	assert.Empty(t, flute.part.FindElements(".//accordion-registration"))
	assert.Empty(t, flute.part.FindElements(".//direction"))
	assert.Equal(t, []string{"1:1", "2:1", "3:1", "4:1"}, warned(flute, "foreign-technique"))
}

// Every file of the suite given to other players: each part is made, and what its
// player reads off the page, in the clefs that were chosen, is what it says.
func TestSuiteGivenToOtherPlayers(t *testing.T) {
	t.Parallel()
	for _, path := range musicxmltest.SharedFiles(t, "testsuite/xmlFiles/*.xml", "testsuite/xmlFiles/*.musicxml") {
		score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
		if err != nil {
			continue // refused whole; other tests say so
		}
		catalogue := instrumentstest.Load(t)
		for _, player := range []string{"cello", "guitar", "bass-clarinet-bflat", "horn-f"} {
			o := parts.DefaultOptions()
			o.Plan = []parts.PlanRow{{Part: "*", Instrument: player, Octave: "auto"}}
			surveyed, err := parts.Survey(score, catalogue, o)
			if err != nil {
				continue // refused; other tests say so
			}
			job, err := surveyed.Assign()
			require.NoError(t, err)
			for i := range job.Assignments() {
				sheet, err := job.Make(i)
				require.NoError(t, err, "%s for %s", filepath.Base(path), player)
				page, err := reading.Read(sheet.Document.Root().SelectElement("part"))
				require.NoError(t, err, "%s for %s", filepath.Base(path), player)
				for i := range page.Notes {
					n := &page.Notes[i]
					lines := max((n.Position-8)/2, -n.Position/2)
					if !n.Unpitched && n.Written.Octave >= 2 && n.Written.Octave <= 5 && lines > 7 {
						assert.Fail(t, "a note far off the staff", "%s for %s: %v at position %d", filepath.Base(path), player, n.Written, n.Position)
					}
				}
			}
		}
	}
}
