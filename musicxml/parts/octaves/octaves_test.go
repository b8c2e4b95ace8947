package octaves_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml/parts/octaves"
)

// horn has two octaves and a half, of which young players have one and a third.
var horn = octaves.Compass{Low: 40, High: 70, ExpectedLow: 48, ExpectedHigh: 64, ComfortableLow: 50, ComfortableHigh: 62,
	WritableLow: 6, WritableHigh: 123}

func phrase(before octaves.Break, sounds ...int) octaves.Phrase {
	return octaves.Phrase{Before: before, Sounds: sounds}
}

// leapt begins in the middle of a phrase, so many semitones above the note before.
func leapt(by int, sounds ...int) octaves.Phrase {
	return octaves.Phrase{Before: octaves.AtBar, Leap: by, Sounds: sounds}
}

func many(n, sound int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = sound
	}
	return all
}

// Each row follows from the sentences of the package's comment.
func TestChoose(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		why     string
		phrases []octaves.Phrase
		want    []int
	}{
		{"what lies well stays", []octaves.Phrase{phrase(octaves.AtBar, 55, 57, 59)}, []int{0}},
		{"a note that it does not have takes the phrase along", []octaves.Phrase{phrase(octaves.AtBar, 60, 64, 71)}, []int{-1}},
		{"the nearest octave of two that do, though the other lies better", []octaves.Phrase{phrase(octaves.AtBar, 79, 80)}, []int{-1}},
		{"two octaves where one leaves all a fourth above what is expected", []octaves.Phrase{phrase(octaves.AtBar, 81, 82)}, []int{-2}},
		{"two octaves where one is not enough", []octaves.Phrase{phrase(octaves.AtBar, 83, 84)}, []int{-2}},
		{"a phrase changes at a rest, its neighbours do not", []octaves.Phrase{phrase(octaves.AtBar, 55, 57), phrase(octaves.AtGap, 72, 74), phrase(octaves.AtGap, 55, 57)}, []int{0, -1, 0}},
		{"in the middle of a phrase only for a note that nobody has", []octaves.Phrase{phrase(octaves.AtBar, 41), phrase(octaves.AtBar, 71), phrase(octaves.AtBar, 41)}, []int{0, -1, 0}},
		{"not for twenty that are high", []octaves.Phrase{phrase(octaves.AtBar, many(100, 50)...), phrase(octaves.AtBar, many(20, 69)...), phrase(octaves.AtBar, many(100, 50)...)}, []int{0, 0, 0}},
		{"at a rest for some that are high", []octaves.Phrase{phrase(octaves.AtBar, 50, 50, 50), phrase(octaves.AtRest, many(8, 69)...), phrase(octaves.AtRest, 50, 50, 50)}, []int{0, -1, 0}},
		{"one high note is played", []octaves.Phrase{phrase(octaves.AtBar, 50, 50, 50), phrase(octaves.AtRest, 55, 57, 66), phrase(octaves.AtRest, 50, 50, 50)}, []int{0, 0, 0}},
		{"at a leap in the middle, where the change makes it no wider: a fourth up in place of a fifth down", []octaves.Phrase{phrase(octaves.AtBar, many(8, 62)...), leapt(-7, many(8, 38)...), leapt(9, many(8, 57)...)}, []int{0, 1, 0}},
		{"the notes beside a note that nobody has keep their octave", []octaves.Phrase{phrase(octaves.AtGap, many(12, 55)...), leapt(-7, 38, 50, 50, 50)}, []int{0, 1}},
		{"a step stays a step: all that is before the note that nobody has goes along", []octaves.Phrase{phrase(octaves.AtGap, many(12, 55)...), leapt(-2, 38, 50, 50, 50)}, []int{1, 1}},
		{"nor for three that are high", []octaves.Phrase{phrase(octaves.AtBar, many(8, 60)...), leapt(8, 66, 66, 67), leapt(-8, many(8, 59)...)}, []int{0, 0, 0}},
		{"wider than the instrument: the fewest notes are missing", []octaves.Phrase{phrase(octaves.AtBar, 41, 42, 71)}, []int{0}},
		{"a change there and back costs more than staying where everything lies well", []octaves.Phrase{phrase(octaves.AtBar, 72, 72), phrase(octaves.AtGap, 62), phrase(octaves.AtGap, 72, 72)}, []int{-1, -1, -1}},
		{"never where it cannot be written", []octaves.Phrase{phrase(octaves.AtBar, 126)}, []int{-4}},
		{"silence", nil, []int{}},
	} {
		assert.Equal(t, test.want, octaves.Choose(test.phrases, horn), test.why)
	}
}

// No other octaves lose fewer notes: on random lines every way is tried.
func TestChooseLosesNoNote(t *testing.T) {
	t.Parallel()
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 3))
		phrases := make([]octaves.Phrase, 4)
		for i := range phrases {
			phrases[i].Before = octaves.Break(r.IntN(4))
			for range 1 + r.IntN(4) {
				phrases[i].Sounds = append(phrases[i].Sounds, 24+r.IntN(72))
			}
		}
		got := octaves.Weigh(phrases, octaves.Choose(phrases, horn), horn).Missing
		for way := range 9 * 9 * 9 * 9 {
			chosen := []int{way%9 - 4, way/9%9 - 4, way/81%9 - 4, way/729 - 4}
			if !writable(phrases, chosen) {
				continue
			}
			require.LessOrEqual(t, got, octaves.Weigh(phrases, chosen, horn).Missing, "seed %d, %v", seed, chosen)
		}
	}
}

func writable(phrases []octaves.Phrase, chosen []int) bool {
	for i := range phrases {
		for _, sound := range phrases[i].Sounds {
			if moved := sound + 12*chosen[i]; moved < horn.WritableLow || moved > horn.WritableHigh {
				return false
			}
		}
	}
	return true
}

func TestWeigh(t *testing.T) {
	t.Parallel()
	phrases := []octaves.Phrase{phrase(octaves.AtBar, 38, 45, 49), phrase(octaves.AtBar, 67, 72), phrase(octaves.AtRest, 43)}
	assert.Equal(t, octaves.Lie{
		Notes: 6, Missing: 1, // 38
		Strange:  1, // 45
		Strained: 1, // 49; 67 and 72 become 55 and 60, 43 becomes 55
		Main:     0, Moved: 3, Away: 3, Changes: 2, DearChanges: 1,
		SumOfSounds: 38 + 45 + 49 + 55 + 60 + 55,
	}, octaves.Weigh(phrases, []int{0, -1, 1}, horn))
}

// The octave of most notes, of equal ones the nearest; a change in the middle of a phrase that
// makes its leap no wider is none that is dear.
func TestMainOctave(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		phrases             []octaves.Phrase
		chosen              []int
		main, changes, dear int
	}{
		{[]octaves.Phrase{phrase(octaves.AtBar, 55), phrase(octaves.AtGap, 55)}, []int{-1, 1}, -1, 1, 0},
		{[]octaves.Phrase{phrase(octaves.AtBar, 55, 55), phrase(octaves.AtGap, 55, 55)}, []int{2, 1}, 1, 1, 0},
		{[]octaves.Phrase{phrase(octaves.AtBar, 55), phrase(octaves.AtGap, 55, 55)}, []int{0, -2}, -2, 1, 0},
		{[]octaves.Phrase{phrase(octaves.AtBar, 62), leapt(-7, 55)}, []int{0, 1}, 0, 1, 0},
		{[]octaves.Phrase{phrase(octaves.AtBar, 62), leapt(-6, 56)}, []int{0, 1}, 0, 1, 0},
		{[]octaves.Phrase{phrase(octaves.AtBar, 62), leapt(-5, 57)}, []int{0, 1}, 0, 1, 1},
		{[]octaves.Phrase{phrase(octaves.AtBar, 62), leapt(0, 62)}, []int{0, 1}, 0, 1, 1},
		{[]octaves.Phrase{phrase(octaves.AtBar, 62), leapt(7, 69)}, []int{1, 0}, 0, 1, 0},
		{[]octaves.Phrase{phrase(octaves.AtBar, 62), leapt(7, 69)}, []int{1, 1}, 1, 0, 0},
	} {
		l := octaves.Weigh(row.phrases, row.chosen, horn)
		assert.Equal(t, []int{row.main, row.changes, row.dear}, []int{l.Main, l.Changes, l.DearChanges}, "%v", row)
	}
}

// One octave for a line that stays as it is: the one in which it suits best, none where notes
// are missing in all.
func TestWhole(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		sounds []int
		want   int
		ok     bool
	}{{[]int{55, 60}, 0, true}, {[]int{71, 72}, -1, true}, {[]int{39}, 1, true}, {[]int{41, 71}, 0, false}, {[]int{40, 70}, 0, true}, {nil, 0, true}, {[]int{81, 82}, -2, true}} {
		phrases := []octaves.Phrase{phrase(octaves.AtBar, row.sounds...), phrase(octaves.AtBar, 55)}
		if row.want < 0 || row.want > 0 {
			phrases = phrases[:1]
		}
		got, ok := octaves.Whole(phrases, horn)
		assert.Equal(t, row.ok, ok, "%v", row.sounds)
		if ok {
			assert.Equal(t, row.want, got, "%v", row.sounds)
		}
	}
}

// trade/ranges.csv: Horn in F written from F#2 to C6 (rk-tables), for grade 2 from G3
// to C5 (pearson-grades), both a fifth lower in sound.
func TestCompassOf(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	c, ok := octaves.CompassOf(catalogue.ByID("horn-f"), instruments.School)
	require.True(t, ok)
	assert.Equal(t, 77, c.High, "C6 sounds F5")
	assert.Equal(t, 65, c.ExpectedHigh, "C5 sounds F4")
	assert.Equal(t, 48, c.ExpectedLow, "G3 sounds C3")
	assert.True(t, c.Has(70) && !c.Expects(70) && !c.Has(78))
	_, ok = octaves.CompassOf(catalogue.ByID("snare-drum"), instruments.School)
	assert.False(t, ok, "a drum has no range")
	for _, in := range catalogue.All() {
		for _, level := range instruments.Levels() {
			if c, ok := octaves.CompassOf(in, level); ok {
				assert.True(t, c.WritableLow <= c.Low && c.Low <= c.ExpectedLow && c.ExpectedLow <= c.ComfortableLow && c.ComfortableLow < c.ComfortableHigh &&
					c.ComfortableHigh <= c.ExpectedHigh && c.ExpectedHigh <= c.High && c.High <= c.WritableHigh, "%s, %s: %+v", in.ID, level, c)
			}
		}
	}
}
