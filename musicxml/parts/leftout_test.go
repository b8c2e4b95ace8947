package parts_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml/notice"
)

// What a flute leaves out of fuller music is said bar by bar, at the first note that goes, by
// name up to six of them; what it takes over later, when the upper line rests, is not left out.
func TestWhatIsLeftOut(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ why, music, measure, beat, names string }{
		{"one line", "C5:w | D5:w", "", "", ""}, {"the lower note of a chord", "E5:w +C5:w", "1", "1", "C5"},
		{"two of three", "G5:w +E5:w +C5:w", "1", "1", "E5, C5"}, {"a voice", "E5:w / C5:h B4:h", "1", "1", "C5, B4"},
		{"a note that comes in below", "E5:h F5:h / r:h A4:h", "1", "3", "A4"}, {"in the second bar", "E5:w | E5:w +C5:w", "2", "1", "C5"},
		{"what is taken over later", "E5:h r:h / C5:w", "", "", ""}, {"a note that has ended by then", "E5:h r:h / C5:h D5:h", "1", "1", "C5"},
		{"a held note counts once", "E5:w / C5:w~ | F5:w / C5:w^", "1", "1", "C5"},
		{"six of them", "E5:w / C5:e C5:e C5:e C5:e C5:q C5:q", "1", "1", "C5, C5, C5, C5, C5, C5"},
		{"seven", "E5:w / C5:e C5:e C5:e C5:e C5:e C5:e C5:q", "1", "1", "7 notes"}, {"a unison: it sounds", "E5:w / E5:w", "", "", ""},
	} {
		made := handedTo(t, scoreOf(t, "Piano", music(t, "treble "+row.music)), "flute", "")
		var got []string
		for _, w := range made.sheet.Report.Warnings {
			if w.Code == notice.LeftOut {
				got = append(got, w.Measure+":"+w.Beat+" "+w.Text)
			}
		}
		var want []string
		if row.names != "" {
			want = []string{row.measure + ":" + row.beat + " left out " + row.names + ", as written in the score: Flute plays the upper line"}
		}
		assert.Equal(t, want, got, row.why)
	}
}
