package pitch_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
	"deskpart/transpose/pitch"
)

func TestParseInterval(t *testing.T) {
	t.Parallel()
	for _, row := range musicxmltest.ReadTable(t, "testdata/intervals.csv") {
		i, err := pitch.ParseInterval(row["text"])
		require.NoError(t, err, row)
		assert.Equal(t, row["interval"], i.String(), row)
	}
	refused := []struct{ text, why string }{
		{"", "nothing"}, {"up", "no size"}, {"minor third", "no direction"}, {"perfect third up", "thirds are major or minor"},
		{"major fifth up", "fifths are perfect"}, {"third up", "which third?"}, {"horn in F", "an instrument"},
		{"diminished unison up", "would be an augmented one down"}, {"d1 up", "the same in short"}, {"M5 up", "fifths are perfect"},
		{"P3 up", "thirds are not"}, {"P0 up", "sizes count from one"}, {"P-5 up", "no negative size"}, {"P+5 up", "no signs"},
		{"Ad5 up", "one quality"}, {"fifteenth up", "octaves are counted from two on"}, {"two octaves and third up", "no quality"},
		{"two octaves and a third up", "no quality"}, {"one octaves up", "no number of them"}, {"up octave", "the direction comes last"},
		{"minor minor third up", "one quality"}, {"21 octaves up", "past all bounds"}, {"P141 up", "past all bounds"},
		{"21 times augmented fifth up", "past all bounds"}, {"21 times diminished third up", "past all bounds"}, {"mm3 up", "one minor"}, {"x3 up", "no quality"},
		{"two octaves or a minor third up", "and"}, {"two octaves and the minor third up", "a or an"}, {"two octaves and a minor up", "no size"},
		{"two octaves and a", "no size"}, {"octaves up", "how many?"}, {"two octave up", "octaves"}, {"M2", "no direction"}, {"1 octaves up", "one is an octave"}, {"P99999999999999999999 up", "past all bounds"}, {"octave and fifth up", "no article"}, {"octave or a fifth up", "one of two"}, {"octave and the fifth up", "which?"}, {"two octaves and a octave up down", "two directions"},
	}
	for _, row := range refused {
		i, err := pitch.ParseInterval(row.text)
		assert.EqualError(t, err, fmt.Sprintf(`%q: not an interval such as "minor third down", "octave up" or "M2 down"`, row.text), row.why)
		assert.Zero(t, i)
	}
}

// What is written is read, for every interval that has a name.
func TestIntervalsAreReadAsTheyAreWritten(t *testing.T) {
	t.Parallel()
	for _, within := range everyInterval() {
		for octaves := -3; octaves <= 3; octaves++ {
			i := within.Add(pitch.Octaves(octaves))
			got, err := pitch.ParseInterval(i.String())
			require.NoError(t, err, "%s: %+v", i, i)
			require.Equal(t, i, got, i.String())
		}
	}
}
