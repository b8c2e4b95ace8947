package pitch_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/transpose/pitch"
)

// everyInterval is every interval within two octaves up and down whose quality
// is at most triply augmented or diminished.
func everyInterval() []pitch.Interval {
	var intervals []pitch.Interval
	for diatonic := -14; diatonic <= 14; diatonic++ {
		for chromatic := -27; chromatic <= 27; chromatic++ {
			i := pitch.Interval{Diatonic: diatonic, Chromatic: chromatic}
			if f := i.Fifths(); f >= -26 && f <= 26 {
				intervals = append(intervals, i)
			}
		}
	}
	return intervals
}

// microtones are alterations that occur in print.
var microtones = []pitch.Alter{-3 * half, -half, half, 3 * half, half / 2, -pitch.Semitone / 3, 44 * pitch.Semitone / 100, 5 * half}

const half = pitch.Semitone / 2

func TestIntervalsAreAGroup(t *testing.T) {
	t.Parallel()
	var none pitch.Interval
	intervals := everyInterval()
	require.Greater(t, len(intervals), 200)
	for _, i := range intervals {
		require.Equal(t, none, i.Add(i.Negate()), i.String())
		require.Equal(t, i, i.Add(none))
		require.Equal(t, i, i.Negate().Negate())
		require.Equal(t, -i.Fifths(), i.Negate().Fifths())
		for _, j := range intervals {
			require.Equal(t, i.Add(j), j.Add(i))
			require.Equal(t, i, i.Add(j).Sub(j))
			require.Equal(t, i.Fifths()+j.Fifths(), i.Add(j).Fifths())
		}
	}
}

// Moving there and back gives the same spelled pitch, and moving by two
// intervals one after the other is moving by their sum.
func TestApplyAndUndo(t *testing.T) {
	t.Parallel()
	pitches := everyPitch()
	for _, alter := range microtones {
		for step := pitch.C; step <= pitch.B; step++ {
			pitches = append(pitches, pitch.Pitch{Step: step, Alter: alter, Octave: 4})
		}
	}
	through := pitch.Interval{Diatonic: -2, Chromatic: -3}
	for _, p := range pitches {
		for _, i := range everyInterval() {
			moved := i.Apply(p)
			if moved.MIDI()-p.MIDI() != pitch.Semitones(i.Chromatic) || moved.Step < pitch.C || moved.Step > pitch.B {
				t.Fatalf("%s moved by %s sounds as %s", p, i, moved)
			}
			if back := i.Negate().Apply(moved); back != p {
				t.Fatalf("%s moved by %s and back is %s", p, i, back)
			}
			if both := through.Apply(moved); both != i.Add(through).Apply(p) {
				t.Fatalf("%s moved by %s and %s is %s", p, i, through, both)
			}
			if between, whole := pitch.Between(p, moved); !whole || between != i {
				t.Fatalf("from %s to %s lies %s, not %s", p, moved, between, i)
			}
		}
	}
}

func TestBetweenKeepsNoFraction(t *testing.T) {
	t.Parallel()
	c := pitch.Pitch{Step: pitch.C, Octave: 4}
	_, whole := pitch.Between(c, pitch.Pitch{Step: pitch.D, Alter: half, Octave: 4})
	assert.False(t, whole)
	i, whole := pitch.Between(pitch.Pitch{Step: pitch.C, Alter: half, Octave: 4}, pitch.Pitch{Step: pitch.D, Alter: half, Octave: 4})
	assert.True(t, whole)
	assert.Equal(t, pitch.Interval{Diatonic: 1, Chromatic: 2}, i)
}

func TestIntervalNames(t *testing.T) {
	t.Parallel()
	for name, interval := range map[string]pitch.Interval{
		"perfect unison":                               {},                              // the zero value moves nothing, and has no direction
		"augmented unison up":                          {Chromatic: 1},                  // trade/worked-examples.csv cnx-acc-upper-e
		"augmented unison down":                        {Chromatic: -1},                 // common practice, no source: a unison is named by its semitones
		"diminished second up":                         {Diatonic: 1},                   // the way between enharmonic twins (trade/notation-rules.md §6)
		"minor second down":                            {Diatonic: -1, Chromatic: -1},   // trade/transpositions.csv, clarinet in B (H)
		"diminished third down":                        {Diatonic: -2, Chromatic: -2},   // a major second respelled (trade/notation-rules.md §6)
		"augmented fourth up":                          {Diatonic: 3, Chromatic: 6},     // common practice, no source
		"diminished fifth up":                          {Diatonic: 4, Chromatic: 6},     // common practice, no source
		"doubly augmented fourth up":                   {Diatonic: 3, Chromatic: 7},     // common practice, no source
		"doubly diminished seventh down":               {Diatonic: -6, Chromatic: -8},   // common practice, no source
		"octave down":                                  pitch.Octaves(-1),               // trade/transpositions.csv
		"augmented octave up":                          {Diatonic: 7, Chromatic: 13},    // common practice, no source
		"major ninth down":                             {Diatonic: -8, Chromatic: -14},  // trade/transpositions.csv, bass clarinet
		"two octaves and an augmented fourth up":       {Diatonic: 17, Chromatic: 30},   // common practice, no source
		"two octaves up":                               pitch.Octaves(2),                // trade/transpositions.csv
		"perfect eleventh down":                        {Diatonic: -10, Chromatic: -17}, // an octave and a fourth, common practice, no source
		"minor fourteenth up":                          {Diatonic: 13, Chromatic: 22},   // an octave and a seventh, common practice, no source
		"two octaves and a major second down":          {Diatonic: -15, Chromatic: -26}, // trade/transpositions.csv, contrabass clarinet
		"two octaves and a doubly diminished third up": {Diatonic: 16, Chromatic: 25},   // common practice, no source
		"triply augmented unison up":                   {Chromatic: 3},                  // common practice, no source
		"4 times diminished fifth up":                  {Diatonic: 4, Chromatic: 3},     // past three, a number
		"augmented octave down":                        {Diatonic: -7, Chromatic: -13},  // an octave that is not perfect says its quality
		"six octaves up":                               pitch.Octaves(6),                // words as far as there are octaves to count
	} {
		assert.Equal(t, name, interval.String())
		read, err := pitch.ParseInterval(name)
		require.NoError(t, err)
		assert.Equal(t, interval, read, name)
	}
}

// The letters tell the direction; where they stay, the semitones do.
func TestDirection(t *testing.T) {
	t.Parallel()
	for i, want := range map[pitch.Interval]bool{
		{Diatonic: -1, Chromatic: -2}: true, {Diatonic: -1, Chromatic: 1}: true, {Diatonic: 0, Chromatic: -1}: true, {}: false, {Diatonic: 0, Chromatic: 1}: false, {Diatonic: 1, Chromatic: -1}: false, {Diatonic: 1, Chromatic: 2}: false,
	} {
		assert.Equal(t, want, i.IsDown(), "%+v", i)
	}
}
