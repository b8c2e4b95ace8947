package pitch_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/transpose/pitch"
)

func TestParseInterval(t *testing.T) {
	t.Parallel()
	rows := []struct {
		text, want, why string
	}{
		{"minor third down", "minor third down", "as it is written"},
		{"Octave  Up", "octave up", "capitals and spaces are a matter of taste"},
		{"fifth down", "perfect fifth down", "of a fifth the perfect one is meant"},
		{"unison", "perfect unison", "which moves nothing and has no direction"},
		{"two octaves and a fifth up", "two octaves and a perfect fifth up", "the perfect one is meant there, too"},
		{"perfect unison up", "perfect unison", "a direction does no harm"},
		{"perfect octave up", "octave up", "said in full"},
		{"M2 down", "major second down", "in short"},
		{"m7 up", "minor seventh up", "small m is minor"},
		{"P5 up", "perfect fifth up", "P is perfect"},
		{"A4 up", "augmented fourth up", "A is augmented"},
		{"d5 up", "diminished fifth up", "d is diminished"},
		{"dd7 down", "doubly diminished seventh down", "twice"},
		{"AAA1 up", "triply augmented unison up", "three times"},
		{"M9 down", "major ninth down", "sizes past the octave"},
		{"P15 up", "two octaves up", "an octave is eight letters and seven steps"},
		{"P1", "perfect unison", "nothing moves"},
		{"20 octaves up", "20 octaves up", "as far as is read"},
		{"M140 down", "19 octaves and a major seventh down", "as far as is read"},
		{"20 times augmented fifth up", "20 times augmented fifth up", "as far as is read"},
		{"20 times diminished third up", "20 times diminished third up", "as far as is read"},
		{"TWO Octaves AND AN Augmented Fourth UP", "two octaves and an augmented fourth up", "capitals are a matter of taste"},
	}
	for _, row := range rows {
		i, err := pitch.ParseInterval(row.text)
		require.NoError(t, err, row.text)
		assert.Equal(t, row.want, i.String(), "%s: %s", row.text, row.why)
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
