package parts_test

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/reading"
)

// Stems after trade/notation-rules.md, section 9. The alto saxophone writes a
// sixth higher than it sounds: C4 becomes A4, one place below the middle line, and
// E4 becomes C#5, one above. In the score C4 and E4 both have stems up.
func TestStems(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ name, why, part, music, want string }{
		{"single notes", "above the middle line down, below it up, on it down", "Alto Saxophone",
			"treble C4↑ D4↑ E4↑ F4↑", "treble A4↑ B4↓ C#5↓ D5↓"},
		{"nothing moved", "the edition's stems stay, also a way that no rule asks for", "Oboe",
			"treble C4↓ B4↑ A5↑ C4!", "treble C4↓ B4↑ A5↑ C4!"},
		{"moved by an octave", "positions changed by seven places", "Piccolo Clarinet in Ab",
			"treble C5↓ E5↓", "treble E4↑ G#4↑"},
		{"chord", "the note farther from the middle line decides: A4 and E5", "Alto Saxophone",
			"treble C4:h↑ +G4↑ C4:h↑ +D4↑", "treble A4↓ +E5↓ A4↑ +B4↑"},
		{"chord as far above as below", "down", "Alto Saxophone",
			"treble C4:h↑ +E4↑", "treble A4↓ +C#5↓"},
		{"beam, one note far below", "F#4 lies three places below the middle line, C#5 one above", "Alto Saxophone",
			"treble A3:e↑{ E4:e↑} C4:e↑{ E4:e↑- G4:e↑}", "treble F#4↑{ C#5↑} A4↓{ C#5↓- E5↓}"},
		{"beam as far above as below", "most noteheads lie below", "Alto Saxophone",
			"treble B3:e↑{ C4:e↑- F4:e↑- D4:e↑}", "treble G#4↑{ A4↑- D5↑- B4↑}"},
		{"beam with a chord and a rest inside", "the whole group turns as one", "Alto Saxophone",
			"treble E4:e↑{ +G4↑ r:e G4:e↑}", "treble C#5↓{ +E5↓ r E5↓}"},
		{"beam across the barline", "one group", "Alto Saxophone",
			"treble C4:h C4 C4:e E4:e↑{ | C4:e↑} C4:h", "treble A4 A4 A4 C#5↓{ | A4↓} A4"},
		{"beam without a beginning", "what is left of it turns as one", "Alto Saxophone", "treble E4:e↑- G4:e↑} C4 C4:h", "treble C#5↓- E5↓} A4 A4"},
		{"beam without an end", "the notes that it has turn as one", "Alto Saxophone", "treble C4:hd E4:e↑{ G4:e↑-", "treble A4 C#5↓{ E5↓-"},
		{"beam begun anew", "the first was never ended", "Alto Saxophone", "treble E4:e↑{ C4:e↑{ C4:e↑} C4:e C4:h", "treble C#5↓{ A4↑{ A4↑} A4 A4"},
		{"grace notes", "up, whatever the place", "Alto Saxophone",
			"treble g!A4↑ G4↓ g!A4↓{ g!B4↓} G4↑", "treble g!F#5↑ E5↓ g!F#5↑{ g!G#5↑} E5↓"},
		{"beamed grace notes inside a beam", "each group for itself: F#4 lies farther from the middle line than C#5", "Alto Saxophone",
			"treble A3:e↑{ g!A4↓{ g!B4↓} E4:e↑}", "treble F#4↑{ g!F#5↑{ g!G#5↑} C#5↑}"},
		{"no stem and none", "what has no stem gets none", "Alto Saxophone",
			"treble C4:w | G4:h! C4:h", "treble A4 | E5! A4"},
		{"without stems in the source", "nothing is added: absence is meant", "Alto Saxophone",
			"treble C4 E4:e{ G4:e}", "treble A4 C#5{ E5}"},
		{"two voices", "stems tell the voices apart", "Alto Saxophone",
			"treble E4↑ F4↑ G4↑ A4↑ << C4↓ B3↓ A3↓ G3↓", "treble C#5↑ D5↑ E5↑ F#5↑ << A4↓ G#4↓ F#4↓ E4↓"},
		{"two voices in half the bar", "where one voice is alone it has the staff", "Alto Saxophone",
			"treble E4:h↑ G4:h↑ << C4:h!", "treble C#5↑ E5↓ << A4!"},
		{"a printed rest is a voice", "the stem keeps away from it", "Alto Saxophone",
			"treble E4:h↑ G4:h↑ << r:w", "treble C#5↑ E5↑ << r"},
		{"exchanged clef alone", "only what stands elsewhere is turned: C3↓ under the edition's own clef is not", "Bassoon",
			"bass C3↓ F3↑ | baritone C3↑ D3↓ F3↓ A3↓ | tenor C3↑", "bass C3↓ F3↑ | C3↑ D3↓ F3↓ A3↓ | tenor C3↑"},
	} {
		assert.Equal(t, row.want, shorthand.ReadStaff(ownPart(t, row.part, row.music).part), "%s: %s", row.name, row.why)
	}
}

// Beams from staff to staff are drawn between them and stay, whatever the move.
func TestBeamsFromStaffToStaff(t *testing.T) {
	t.Parallel()
	two := `<attributes><staves>2</staves></attributes>`
	made := ownPart(t, "Alto Saxophone", two+" treble 2treble C4:e↑{ =2 G4:e↑} =1 E4:e↑{ G4:e↑}")
	assert.Equal(t, "treble 2treble A4↑{ E5↑} C#5↓{ E5↓}", shorthand.ReadStaff(made.part))
}

// In every moved part of the concert scores, the stems of single notes agree with
// their places as package reading finds them, and nearly all stems are those of
// the edition, whose music it is (OpenScore Orchestra corpus). What differs was
// looked at: beams with a note as far above as below, notes on the middle line,
// and horns that are given bass clef for low passages.
func TestStemsAgainstEditions(t *testing.T) {
	stems, same := 0, 0
	for _, concert := range musicxmltest.SharedFiles(t, "scores/concert/*.mxl") {
		name := strings.TrimSuffix(filepath.Base(concert), ".concert.mxl")
		written := readScore(t, filepath.Join(musicxmltest.SharedDir(t), "scores", "written", name+".mxl"))
		for i, made := range makeParts(t, concert, parts.DefaultOptions()) {
			if made.sheet.Report.Moved.Diatonic == 0 {
				continue
			}
			edition, err := written.ReadPart(i, nil)
			require.NoError(t, err)
			own, theirs := readStems(t, made), stemsOf(edition)
			require.Len(t, own, len(theirs))
			for k := range own {
				if theirs[k] != "" {
					stems++
				}
				if own[k] == theirs[k] && own[k] != "" {
					same++
				}
			}
		}
	}
	t.Logf("%d of %d stems of moved parts are the edition's", same, stems)
	assert.Greater(t, stems, 5000)
	assert.Greater(t, float64(same), 0.99*float64(stems))
}

// readStems lists the stems of a made part and holds those of single notes
// against their places.
func readStems(t *testing.T, made madePart) []string {
	t.Helper()
	page, err := reading.Read(made.part)
	require.NoError(t, err)
	for i := range page.Notes {
		n := &page.Notes[i]
		alone := !n.Chord && (i+1 == len(page.Notes) || !page.Notes[i+1].Chord) && n.Element.SelectElement("beam") == nil
		if stem := musicxml.ChildText(n.Element, "stem"); stem != "" && alone && n.Grace == 0 && n.Position != 4 {
			want := "up"
			if n.Position > 4 {
				want = "down"
			}
			assert.Equal(t, want, stem, "%s, measure %s, beat %s", made.name, n.Measure, n.Beat)
		}
	}
	return stemsOf(made.part)
}
