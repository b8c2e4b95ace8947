package parts_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml/musicxmltest/shorthand"
)

func octaveShift(kind string, size int) string {
	return fmt.Sprintf(`<direction><direction-type><octave-shift type="%s" size="%d"/></direction-type></direction>`, kind, size)
}

// Octave lines: players of all but keyboard instruments read ledger lines
// (trade/part-preparation.md, section 4). Under a printed 8va (type down) the
// note has its true pitch and stands an octave lower.
func TestOctaveLines(t *testing.T) {
	t.Parallel()
	va, end := octaveShift("down", 8), octaveShift("stop", 8)
	for _, row := range []struct {
		name, why, part, instrument, music, want string
		lines                                    int // that are left
		warned                                   []string
	}{
		{"needless after the move", "C5 becomes A5, one ledger line: the line goes", "Alto Saxophone", "",
			"treble C4 " + va + " C5↑ C5↑ " + end + " C4", "treble A4 A5↓ A5↓ A4", 0, nil},
		{"two ledger lines", "F5 becomes D6, two ledger lines at the most: the line goes", "Alto Saxophone", "",
			"treble C4 " + va + " F5↑ F5↑ " + end + " C4", "treble A4 D6↓ D6↓ A4", 0, nil},
		{"two octaves", "C6 becomes A6, which stands in the second space under the line", "Alto Saxophone", "",
			"treble C4 " + octaveShift("down", 15) + " C6↑ C6↑ " + octaveShift("stop", 15) + " C4", "treble A4 A6↑ A6↑ A4", 2, []string{"1:2"}},
		{"still wanted", "G5 becomes E6, three ledger lines: kept and said; E6 stands in the top space as E5, stem down", "Alto Saxophone", "",
			"treble C4 " + va + " G5↑ G5↑ " + end + " C4", "treble A4 E6↓ E6↓ A4", 2, []string{"1:2"}},
		{"an edition's own line", "nothing moved: it stays, and is said", "Flute", "",
			"treble C4 " + va + " C5↓ C5↓ " + end + " C4", "treble C4 C5↓ C5↓ C4", 2, []string{"1:2"}},
		{"piano", "keyboards use octave lines", "Piano", "",
			"treble C4 " + va + " C7↑ C7↑ " + end + " C4", "treble C4 C7↑ C7↑ C4", 2, nil},
		{"counted in the choice of the clef", "C7 stands where C6 is, with two ledger lines",
			"Viola", "violin", "alto C4 C4 C4 C4 | " + va + " C7:w " + end + " | C4:w", "treble C4 C4 C4 C4 | C7 | C4", 2, []string{"2:1"}},
		{"a line that is never closed", "it stays as it is and is said", "Alto Saxophone", "",
			"treble " + va + " C5↑ C5↑ C5↑ C5↑", "treble A5↑ A5↑ A5↑ A5↑", 1, []string{"1:1"}},
		{"stop and start at one place", "each line is judged by itself", "Alto Saxophone", "",
			"treble " + va + " C5↑ " + end + va + " G5↓ " + end + " C4 C4", "treble A5↓ E6↓ A4 A4", 2, []string{"1:2"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			made := handedTo(t, scoreOf(t, row.part, music(t, row.music)), row.instrument, "")
			assert.Equal(t, row.want, shorthand.ReadStaff(made.part), row.why)
			assert.Len(t, made.part.FindElements(".//octave-shift"), row.lines, row.why)
			assert.Equal(t, row.warned, warned(made, "octave-line"), row.why)
			for _, w := range made.sheet.Report.Warnings {
				few := row.name == "an edition's own line" || row.name == "a line that is never closed"
				assert.Equal(t, w.Code == "octave-line" && few, strings.HasSuffix(w.Text, " read the ledger lines, here two at most"), row.why)
			}
		})
	}
}

// A direction that says more than the line keeps the rest.
func TestOctaveLineGoesAlone(t *testing.T) {
	t.Parallel()
	words := strings.Replace(octaveShift("down", 8), "</direction-type>", "</direction-type><direction-type><words>dolce</words></direction-type>", 1)
	made := ownPart(t, "Alto Saxophone", "treble "+words+" C5 "+octaveShift("stop", 8)+" C4")
	assert.Len(t, made.part.FindElements(".//direction"), 1)
	assert.NotNil(t, made.part.FindElement(".//direction/direction-type/words"))
}
