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
	for _, row := range []struct{ file, why, instrument, want string }{
		{"12aa", "the part's name is no instrument: its clefs stay", "", "treble C4 | alto C4 | tenor C4 | bass C4"},
		{"12aa", "a clarinet reads treble", "clarinet-bflat", "treble D4 | D4 | D4 | D4"},
		{"12aa", "a bassoon reads middle C on one ledger line of bass clef", "bassoon", "bass C4 | C4 | C4 | C4"},
		{"12ab", "percussion, octave clefs and clefs on other lines, all kept", "",
			"percussion C4 | treble-8vb C4 | bass-8vb C4 | baritone C4 | G C4 | C C4 | mezzo C4 | soprano C4 | treble-8va C4 | bass-8va C4"},
		{"12ab", "the percussion clef stands for the instrument, the others go", "clarinet-bflat",
			"percussion D4 | treble D4 | D4 | D4 | D4 | D4 | D4 | D4 | D4 | D4"},
		{"12ac", "none reads as treble; tablature is not a flute's", "flute", "treble C4 | C4 | C4"},
		{"12ac", "tablature is a guitar's", "guitar", "treble C5 | TAB C5 | treble C5"},
		{"12ad", "octaves up to three", "", "G C2 | F C2 | G C6 | F C6 | G C7 | F C1"},
		{"12b", "treble is meant and stays so", "", "C4 | C4"},
		{"12b", "the trombone's clef is said", "trombone", "bass C4 | C4"},
		{"42b", "the change in mid-bar of staff 1 is the score's; staff 2 keeps bass clef for D3, which has four ledger lines in treble", "Horn in F",
			"treble 2bass C5{ A4- F#4} D4 C4 << r D3{ D3} D3{ E3- D3- C#3- D3} | B5{ G5- D5} D5 C5 << G3 +B3 +D4 +G4 r r D4"},
		{"43a", "a piano keeps the clefs of its hands", "piano", "treble 2bass F4 << B2"},
		{"43a", "each staff its own: F sharp 3 needs no ledger line in bass", "Horn in F", "treble 2bass C5 << F#3"},
		{"43b", "keys differ, clefs do not care", "Horn in F", "treble 2bass C5 << F#3"},
		{"43c", "the second staff's clef stands after the backup", "Horn in F", "treble C5 << 2bass F#3"},
		{"43c", "a bassoon reads one of the two", "Bassoon", "bass F4 << 2bass B2"},
		{"43d", "beams from staff to staff stay", "piano",
			"treble 2bass A3{ E4- A3- E4} C5{ E4- A3- B4} | r << C3{ +E3 +G3 +C4 C4- +E4 +G4 C3- +E3 +G3 +C4 G3} +C4 +E4 +G4 r"},
		{"43e", "clef changes of one staff alone", "piano",
			"treble 2bass C5 B4 A4 G4 << A2 B2 C3 D3 | 2treble A4 B4 C#5 D5 << F#4 G4 A4 B4 | mezzo D5 C#5 B4 A4 << A4 B4 C#5 D5 | r << r"},
		{"46c", "kept where the part is unknown", "", "treble r | C5 C5 | mezzo C5 C5 | C5 C5 treble C5 C5"},
		{"46c", "needless in a clarinet part", "clarinet-bflat", "treble r | D5 D5 | D5 D5 | D5 D5 D5 D5"},
		{"33e", "lines of wrong size are carried through", "flute", "treble A4 A7 C3"},
		{"24b", "grace chords move as notes", "Alto Saxophone", "treble A5 g!B5 g!+D6 A5 g!G#5 g!+B5 F#5 +A5"},
		{"24c", "grace notes at the end of a bar", "clarinet-bflat", "treble F#5 F#5 g!A5{ g!B5}"},
		{"24d", "after-graces", "clarinet-bflat", "treble F#5 g!A5 g!B5 g!B5 F#5 g!A5{ g!B5}"},
		{"24e", "grace notes on another staff, which has no clef and reads treble", "Clarinet in Bb", "treble 2treble F#5 g!A5{ g!B5} F#5"},
		{"24f", "slurred grace note", "clarinet-bflat", "treble F#5 g!A5 F#5"},
	} {
		t.Run(row.file+" "+row.instrument, func(t *testing.T) {
			t.Parallel()
			assert.Equal(t, row.want, shorthand.ReadStaff(suiteParts(t, row.file, row.instrument)[0].part), row.why)
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
