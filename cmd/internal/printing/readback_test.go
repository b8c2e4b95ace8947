package printing_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/printing"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/engraving/paper"
	"deskpart/musicxml/engraving/pdfread"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/reading"
)

// papers are those that schools print on.
var papers = map[string]paper.Size{"A4": {Width: 210, Height: 297}, "Letter": {Width: 215.9, Height: 279.4}}

// notReadable are files whose pages do not say the pitches or times that the file
// has, for the reason given; they are printed and read, and only their notes are not
// held against the file.
var notReadable = map[string]string{
	"01h-Pitches-TurkishPersian.musicxml":       "has accidentals whose size is a matter of the tuning",
	"12ab-Clefs-Percussion-NonTrad.xml":         "has a pitch under a clef without pitches",
	"12ac-Clefs-TAB-Switch.xml":                 "has tablature, where places are strings",
	"13ac-KeySignatures-Octaves.xml":            "has signatures whose signs stand in one octave alone",
	"22a-Noteheads.xml":                         "has heads that look alike in all values",
	"22b-Staff-Notestyles.xml":                  "has slashes in the place of notes",
	"23a-Tuplets.xml":                           "has tuplets whose printed figures do not fill the bar",
	"23b-Tuplets-Styles.xml":                    "shows figures that are not those of its time",
	"23c-Tuplet-Display-NonStandard.xml":        "shows other notes and numbers than it plays",
	"23d-Tuplets-Nested.xml":                    "has tuplets within tuplets",
	"23f-Tuplets-DurationButNoBracket.xml":      "does not show its tuplets",
	"24e-GraceNote-StaffChange.xml":             "has grace notes for a note on the other staff",
	"32ab-Notations3.xml":                       "has heads that look alike in all values",
	"33d-Spanners-OctaveShifts.xml":             "has octave lines that overlap",
	"33a-Spanners.xml":                          "has bows that are no slurs: hammer-on and pull-off",
	"33e-Spanners-OctaveShifts-InvalidSize.xml": "has an octave line of no size that there is",
	"43d-MultiStaff-StaffChange.xml":            "has notes whose durations are not their values",
	"46a-Barlines.xml":                          "has a bar without barline",
	"46b-MidmeasureBarline.xml":                 "has a barline within a bar",
	"46c-Midmeasure-Clef.xml":                   "has a bar without barline",
	"46d-PickupMeasure-ImplicitMeasures.xml":    "has bars without barlines",
	"71e-TabStaves.xml":                         "has tablature, where places are strings",
	"73a-Percussion.xml":                        "has staves of one line, where places are no pitches",
	"74a-FiguredBass.xml":                       "has notes whose durations are not their values",
	"How_Can_I_Keep_from_Singing_.mxl":          "has bars without barlines",
}

// ambiguous are bars that a player, too, reads by what they must mean: the printed
// values allow another reading, for the reason given.
var ambiguous = map[string]string{
	"sq7267316.mxl Violin 2 410":         "durations that are not their values",
	"sq7267316.mxl Viola 602":            "four quarters under a signature of three",
	"sq7267316.mxl Viola 970":            "a figure each for two voices on one staff",
	"11_Die_fr_hen_Gr_ber.mxl Voice 42":  "a small note aside of one of full size",
	"7_The_Shepherd_s_Song.mxl Piano 36": "triplets without figures in one of four voices",
}

// tally counts what was held against the part, by kind, and what differed.
type tally struct {
	parts  int
	counts map[string]int
	wrong  map[string][]string
}

func newTally() *tally { return &tally{counts: map[string]int{}, wrong: map[string][]string{}} }

func (c *tally) miss(kind, format string, arguments ...any) {
	c.wrong[kind] = append(c.wrong[kind], fmt.Sprintf(format, arguments...))
}

// What a part says is what stands on its pages: they are read back by code that knows
// nothing of the engraver, and every note's pitch and moment, every slur, hairpin,
// dynamic and word with its beginning and end is held against the part. By default
// over a few parts; over every part of the shared scores and of the test suite under
// DESKPART_EVERY_SCORE.
func TestPagesAreReadBack(t *testing.T) {
	t.Parallel()
	some := map[string][]string{"Haydn_104_1.concert.mxl": {"Horn in D 1", "Violin 2"}, "4_Nachklang.mxl": {"Piano"}, "sq7093885.mxl": {"Viola"},
		"7_The_Shepherd_s_Song.mxl": {"Piano"}}
	every := os.Getenv(musicxmltest.EveryScore) != ""
	for name, size := range papers {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			c := newTally()
			for _, path := range musicxmltest.SharedFiles(t, "scores/*/*.mxl", "testsuite/xmlFiles/*") {
				if labels := some[filepath.Base(path)]; every || labels != nil {
					sheets(t, path, func(label string, root *etree.Element) {
						if every || slices.Contains(labels, label) {
							c.readBack(t, filepath.Base(path), label, size, root)
						}
					})
				}
			}
			for _, kind := range []string{"bars", "notes", "slurs", "hairpins", "dynamics", "words"} {
				t.Logf("%s: %d of %d parts", kind, c.counts[kind], c.parts)
				assert.Empty(t, c.wrong[kind], kind)
			}
			assert.Greater(t, c.counts["notes"], 2000)
		})
	}
}

// What the shared scores hardly have is read back, too: ties and tuplets from staff to
// staff, octave lines over one note, a key that changes within a bar.
func TestRareThingsAreReadBack(t *testing.T) {
	t.Parallel()
	const up, stop = `<direction><direction-type><octave-shift type="down"/></direction-type></direction>`, `<direction><direction-type><octave-shift type="stop"/></direction-type></direction>`
	for name, music := range map[string]string{
		"a tie to the other staff":         "2bass C4:h~ =2 C4:q^ =1 r:q | Eb4:h~ =2 Eb4:h^",
		"a triplet over two staves":        "2bass C5:et[ =2 C4:qt] =1 C5:hd | =2 C3:qt[ =1 C5:qt =2 C4:qt] =1 C5:h",
		"a triplet with a beam over two":   "2bass C5:et[{ G4:et- =2 C4:et]} =1 C5:hd | =2 C3:et[{ =1 C5:et- E5:et]} C5:hd",
		"an octave line over a short note": "C5:e " + up + " C6:e " + stop + " D5:e E5:e " + up + " C6:s D6:s E6:s " + stop + " C5:s C5:q",
		"a key within a bar":               "[key 2] F5:q C5 [key -3] E5 A5 | E5:h C5 [key 0] | E5:w",
	} {
		t.Run(name, func(t *testing.T) {
			c := newTally()
			doc := etree.NewDocument()
			require.NoError(t, doc.ReadFromBytes(shorthand.Score(t, shorthand.Entry{Name: "Piano", Music: music})))
			c.readBack(t, name, "Piano", papers["A4"], doc.Root())
			assert.Empty(t, c.wrong)
			assert.Positive(t, c.counts["notes"])
		})
	}
}

// sheets are the parts of a score as the copyist makes them; a file that is no score
// has none.
func sheets(t *testing.T, path string, visit func(label string, root *etree.Element)) {
	t.Helper()
	score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
	if err != nil {
		return
	}
	catalogue := instrumentstest.Load(t)
	surveyed, err := parts.Survey(score, catalogue, parts.DefaultOptions())
	if err != nil {
		return
	}
	job, err := surveyed.Assign()
	require.NoError(t, err)
	for i, a := range job.Assignments() {
		sheet, err := job.Make(i)
		require.NoError(t, err, path)
		visit(a.Label, sheet.Document.Root())
	}
}

// readBack prints a part, reads it, and compares.
func (c *tally) readBack(t *testing.T, file, label string, size paper.Size, root *etree.Element) {
	t.Helper()
	printed, err := printing.Options{Paper: size}.Print(printing.Player{Label: label}, root)
	require.NoError(t, err, file)
	data, err := printed.PDF()
	require.NoError(t, err)
	read, err := pdfread.Read(data)
	require.NoError(t, err, file)
	c.parts++
	if notReadable[file] != "" {
		return
	}
	c.compareNotes(t, file+" "+label, root, read)
	c.compareMarks(t, file+" "+label, root, read)
}

// compareNotes holds the notes of each bar against those that a player reads in the
// document (package reading).
func (c *tally) compareNotes(t *testing.T, name string, root *etree.Element, read *pdfread.Part) {
	t.Helper()
	part := musicxml.Child(root, "part")
	page, err := reading.Read(part)
	require.NoError(t, err, name)
	want, got := map[int][]string{}, map[int][]string{}
	for i := range page.Notes {
		if n := &page.Notes[i]; !n.Hidden && musicxml.ChildText(n.Element, "notehead") != "none" {
			c.counts["notes"]++
			want[n.MeasureIndex] = append(want[n.MeasureIndex], asRead(n).String())
		}
	}
	for _, n := range read.Notes {
		got[n.Measure] = append(got[n.Measure], n.String())
	}
	measures := len(musicxml.Children(part, "measure"))
	c.counts["bars"] += measures
	if read.Measures != measures {
		c.miss("bars", "%s: %d bars, read are %d", name, measures, read.Measures)
	}
	for m := range measures {
		slices.Sort(want[m])
		slices.Sort(got[m])
		if !slices.Equal(want[m], got[m]) && !read.Repeated[m] && !hasHeadless(part, m) && ambiguous[fmt.Sprint(name, " ", m)] == "" {
			c.miss("notes", "%s, bar %d (values add up: %v)\n   in the part %v\n   on the page %v", name, m, !read.Unsure[m], want[m], got[m])
		}
	}
}

// asRead is a note of the document as the page has it.
func asRead(n *reading.Note) pdfread.Note {
	return pdfread.Note{Place: pdfread.Place{Measure: n.MeasureIndex, Onset: n.Onset}, Staff: n.Staff, Step: strings.Index("CDEFGAB", n.Read.String()[:1]),
		Octave: n.Read.Octave, Alter: n.Read.Alter.Float(), Grace: n.Grace > 0, Unpitched: n.Unpitched}
}

// hasHeadless reports whether a bar has a note that the document wants without head:
// the time that it takes cannot be read.
func hasHeadless(part *etree.Element, measure int) bool {
	for _, n := range musicxml.Children(musicxml.Children(part, "measure")[measure], "note") {
		if musicxml.ChildText(n, "notehead") == "none" {
			return true
		}
	}
	return false
}
