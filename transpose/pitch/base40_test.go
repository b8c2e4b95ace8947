package pitch_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/transpose/pitch"
)

// The base-40 number line (Hewlett 1992, "A Base-40 Number-line Representation
// of Musical Pitch Notation") is the slow twin of the interval arithmetic: each
// spelled pitch is one number, an octave is 40, and transposing is adding a
// constant. It has room for double accidentals and none beyond.

// base40Naturals are the numbers of C D E F G A B: C is 3 (C double flat is 1),
// a whole step is 6, a half step 5 (trade/notation-rules.md §18).
var base40Naturals = [7]int{3, 9, 15, 20, 26, 32, 38}

// base40Empty are the numbers that no spelled pitch has: between D flat flat and
// C double sharp and so on, where a whole step leaves one number free.
var base40Empty = map[int]bool{6: true, 12: true, 23: true, 29: true, 35: true}

// base40 returns the number of a pitch, and whether there is one.
func base40(p pitch.Pitch) (int, bool) {
	alter, whole := p.Alter.Whole()
	if !whole || alter < -2 || alter > 2 {
		return 0, false
	}
	return 40*p.Octave + base40Naturals[p.Step] + alter, true
}

// fromBase40 returns the pitch of a number, and whether there is one.
func fromBase40(n int) (pitch.Pitch, bool) {
	octave := (n - 1) / 40
	if n < 1 {
		octave = (n - 40) / 40
	}
	within := n - 40*octave
	if base40Empty[within] {
		return pitch.Pitch{}, false
	}
	for step, natural := range base40Naturals {
		if alter := within - natural; alter >= -2 && alter <= 2 {
			return pitch.Pitch{Step: pitch.Step(step), Alter: pitch.Semitones(alter), Octave: octave}, true
		}
	}
	return pitch.Pitch{}, false
}

// base40Intervals are the differences that the source gives for the intervals
// within an octave (trade/notation-rules.md §18), and those in between.
var base40Intervals = []struct {
	name     string
	interval pitch.Interval
	number   int
}{
	{"perfect unison", pitch.Interval{}, 0},
	{"augmented unison", pitch.Interval{Chromatic: 1}, 1},
	{"diminished second", pitch.Interval{Diatonic: 1}, 4},
	{"minor second", pitch.Interval{Diatonic: 1, Chromatic: 1}, 5},
	{"major second", pitch.Interval{Diatonic: 1, Chromatic: 2}, 6},
	{"augmented second", pitch.Interval{Diatonic: 1, Chromatic: 3}, 7},
	{"diminished third", pitch.Interval{Diatonic: 2, Chromatic: 2}, 10},
	{"minor third", pitch.Interval{Diatonic: 2, Chromatic: 3}, 11},
	{"major third", pitch.Interval{Diatonic: 2, Chromatic: 4}, 12},
	{"augmented third", pitch.Interval{Diatonic: 2, Chromatic: 5}, 13},
	{"diminished fourth", pitch.Interval{Diatonic: 3, Chromatic: 4}, 16},
	{"perfect fourth", pitch.Interval{Diatonic: 3, Chromatic: 5}, 17},
	{"augmented fourth", pitch.Interval{Diatonic: 3, Chromatic: 6}, 18},
	{"diminished fifth", pitch.Interval{Diatonic: 4, Chromatic: 6}, 22},
	{"perfect fifth", pitch.Interval{Diatonic: 4, Chromatic: 7}, 23},
	{"augmented fifth", pitch.Interval{Diatonic: 4, Chromatic: 8}, 24},
	{"diminished sixth", pitch.Interval{Diatonic: 5, Chromatic: 7}, 27},
	{"minor sixth", pitch.Interval{Diatonic: 5, Chromatic: 8}, 28},
	{"major sixth", pitch.Interval{Diatonic: 5, Chromatic: 9}, 29},
	{"augmented sixth", pitch.Interval{Diatonic: 5, Chromatic: 10}, 30},
	{"diminished seventh", pitch.Interval{Diatonic: 6, Chromatic: 9}, 33},
	{"minor seventh", pitch.Interval{Diatonic: 6, Chromatic: 10}, 34},
	{"major seventh", pitch.Interval{Diatonic: 6, Chromatic: 11}, 35},
	{"octave", pitch.Interval{Diatonic: 7, Chromatic: 12}, 40},
}

// everyPitch is every spelled pitch with a base-40 number in MusicXML's octaves.
func everyPitch() []pitch.Pitch {
	var pitches []pitch.Pitch
	for octave := 0; octave <= 9; octave++ {
		for step := pitch.C; step <= pitch.B; step++ {
			for alter := -2; alter <= 2; alter++ {
				pitches = append(pitches, pitch.Pitch{Step: step, Alter: pitch.Semitones(alter), Octave: octave})
			}
		}
	}
	return pitches
}

func TestBase40NumbersAreOneToOne(t *testing.T) {
	t.Parallel()
	seen := map[int]bool{}
	for _, p := range everyPitch() {
		n, ok := base40(p)
		require.True(t, ok)
		require.False(t, seen[n], "%s shares number %d", p, n)
		seen[n] = true
		back, ok := fromBase40(n)
		require.True(t, ok)
		require.Equal(t, p, back)
	}
	assert.Len(t, seen, 350)
}

func TestApplyAgainstBase40(t *testing.T) {
	t.Parallel()
	agreed := 0
	for _, row := range base40Intervals {
		assert.Equal(t, row.name, row.interval.Name())
		for octaves := -2; octaves <= 2; octaves++ {
			for _, sign := range []int{1, -1} {
				by := row.interval.Add(pitch.Octaves(octaves))
				if sign < 0 {
					by = by.Negate()
				}
				number := sign * (row.number + 40*octaves)
				for _, p := range everyPitch() {
					n, _ := base40(p)
					want, ok := fromBase40(n + number)
					got := by.Apply(p)
					if _, room := base40(got); !ok || !room {
						// Past double accidentals the line gives another letter or none.
						continue
					}
					if !assert.Equal(t, want, got, "%s moved by %s", p, by) {
						return
					}
					agreed++
				}
			}
		}
	}
	assert.Greater(t, agreed, 70_000, "the comparison found room on the line")
}

func TestBetweenAgainstBase40(t *testing.T) {
	t.Parallel()
	numbers := map[int]pitch.Interval{}
	for _, row := range base40Intervals {
		numbers[row.number] = row.interval
	}
	for _, a := range everyPitch() {
		for _, b := range everyPitch() {
			x, _ := base40(a)
			y, _ := base40(b)
			want, named := numbers[y-x]
			if !named {
				continue
			}
			got, whole := pitch.Between(a, b)
			// Two spelled pairs may share a difference only past the named
			// qualities, such as C double flat to D double sharp.
			if got.Diatonic != want.Diatonic {
				continue
			}
			require.True(t, whole)
			require.Equal(t, want, got, "%s to %s", a, b)
		}
	}
}
