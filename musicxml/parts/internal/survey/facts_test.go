package survey

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

// The clef that a part begins with is the first on its first staff that has a place for
// notes; tablature and "none" have none (MusicXML 4.0, clef-sign).
func TestFirstClef(t *testing.T) {
	t.Parallel()
	treble, bass := instruments.Clef{Sign: "G", Line: 2}, instruments.Clef{Sign: "F", Line: 4}
	for _, row := range []struct {
		clefs string // sign line octave, @ for the second staff; in order
		want  instruments.Clef
	}{
		{"G 2 0", treble}, {"G 2 -1", instruments.Clef{Sign: "G", Line: 2, OctaveChange: -1}}, {"G 2 0, F 4 0", treble},
		{"@F 4 0, G 2 0", treble}, {"@F 4 0", instruments.Clef{}}, {"TAB 5 0, F 4 0", bass}, {"none 0 0, F 4 0", bass}, {"", instruments.Clef{}},
	} {
		var f facts
		for text := range strings.SplitSeq(row.clefs, ", ") {
			if text == "" {
				continue
			}
			own, second := strings.CutPrefix(text, "@")
			says := strings.Fields(own)
			doc := etree.NewDocument()
			number := map[bool]string{true: ` number="2"`}[second]
			require.NoError(t, doc.ReadFromString(`<clef`+number+`><sign>`+says[0]+`</sign><line>`+says[1]+`</line><clef-octave-change>`+says[2]+`</clef-octave-change></clef>`))
			f.takeClef(doc.Root())
		}
		assert.Equal(t, row.want, f.first, row.clefs)
	}
}

// The intervals of 0 to 6 semitones by their usual names: minor and major second, minor and
// major third, fourth, augmented fourth (theory; W3C, transpose).
func TestUsualIntervals(t *testing.T) {
	t.Parallel()
	for semitones, steps := range map[int]int{0: 0, 1: 1, 2: 1, 3: 2, 4: 2, 5: 3, 6: 3} {
		assert.Equal(t, pitch.Interval{Diatonic: steps, Chromatic: semitones}, intervalOf(semitones))
		assert.Equal(t, pitch.Interval{Diatonic: -steps, Chromatic: -semitones}, intervalOf(-semitones))
	}
}
