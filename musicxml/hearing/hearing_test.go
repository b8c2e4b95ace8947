package hearing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
)

func ear(t testing.TB) *Ear {
	t.Helper()
	e, err := New()
	require.NoError(t, err)
	return e
}

// semitones of the letters, by hand.
var semitonesOf = map[byte]int{'C': 0, 'D': 2, 'E': 4, 'F': 5, 'G': 7, 'A': 9, 'B': 11}

// play reads a shorthand: a word is a quarter note, "F#" or "C+E"; "-" holds the
// note before, "r" is a rest. The whole is played over and over, times times.
func play(times int, words string) *Part {
	var p Part
	at := int64(0)
	quarter := func(n int64) musicxml.Fraction { return musicxml.NewFraction(n, 1) }
	for range times {
		last := "r"
		for _, word := range strings.Fields(words) {
			if word != "-" {
				last = word
			}
			for _, name := range strings.Split(last, "+") {
				if name == "r" {
					continue
				}
				p.Add(quarter(at), quarter(at+1), semitonesOf[name[0]]+strings.Count(name, "#")-strings.Count(name, "b"))
			}
			at++
		}
	}
	return &p
}

// What any handbook of harmony says of the intervals (common practice, no source).
func TestOrderOfConsonances(t *testing.T) {
	t.Parallel()
	w := ear(t).weights
	assert.Greater(t, w[0], w[7], "unison before fifth")
	assert.Greater(t, w[7], w[4], "perfect before imperfect consonances")
	for _, consonant := range []int{0, 3, 4, 5, 7, 8, 9} {
		for _, dissonant := range []int{1, 2, 6, 10, 11} {
			assert.Positive(t, w[consonant], "%d semitones", consonant)
			assert.Negative(t, w[dissonant], "%d semitones", dissonant)
		}
	}
	for semitones := 1; semitones < 12; semitones++ {
		assert.Equal(t, w[semitones], w[12-semitones], "an interval and its inversion, %d", semitones)
	}
	for _, mild := range []int{2, 6} {
		assert.Less(t, w[1], w[mild], "the semitone is the sharpest")
	}
}

func TestReadWeights(t *testing.T) {
	t.Parallel()
	rows := strings.Split(strings.TrimSpace(consonanceTable), "\n")
	for _, test := range []struct{ why, table, err string }{
		{"a row is missing", strings.Join(rows[:7], "\n"), "consonance.csv has 7 rows; it must have a heading and 7"},
		{"a weight of 101", strings.Replace(consonanceTable, ",100,", ",101,", 1), `consonance.csv, class "0": "101" is no weight from -100 to 100, or the row is out of order`},
		{"rows out of order", strings.Join(append(append(rows[:1:1], rows[2], rows[1]), rows[3:]...), "\n"), `consonance.csv, class "1": "-100" is no weight from -100 to 100, or the row is out of order`},
		{"too few columns", "a,b\n", "consonance.csv: record on line 1: wrong number of fields"},
	} {
		_, err := readWeights(test.table)
		assert.EqualError(t, err, test.err, test.why)
	}
}

func TestPartAdd(t *testing.T) {
	t.Parallel()
	half, third := musicxml.NewFraction(1, 2), musicxml.NewFraction(1, 3)
	at := func(n, d int64) musicxml.Fraction { return musicxml.NewFraction(n, d) }
	for _, test := range []struct {
		why        string
		start, end musicxml.Fraction
		heard      []int // moments, in eighths
	}{
		{"a quarter is two eighths", at(0, 1), at(1, 1), []int{0, 1}},
		{"an eighth off the beat", half, at(1, 1), []int{1}},
		{"a sixteenth between two eighths is not heard", at(1, 4), half, nil},
		{"a triplet's first note ends before the eighth", at(0, 1), third, []int{0}},
		{"a triplet's second note holds over the eighth", third, at(2, 3), []int{1}},
		{"a grace note has no length", half, half, nil},
		{"backwards", at(1, 1), half, nil},
		{"before the start", at(-1, 1), half, nil},
		{"no number at all", at(1, 0), half, nil},
		{"finer than any music", at(1, 1<<41), half, nil},
		{"behind the bound", at(1<<40, 1), at(1<<40+1, 1), nil},
	} {
		var p Part
		p.Add(test.start, test.end, 1)
		var heard []int
		for moment, notes := range p.moments {
			if notes != 0 {
				assert.Equal(t, chord(2), notes, test.why)
				heard = append(heard, moment)
			}
		}
		assert.Equal(t, test.heard, heard, test.why)
	}
	var p Part
	p.Add(musicxml.Fraction{}, at(1<<50, 1), -1)
	assert.Len(t, p.moments, mostMoments, "a note without end fills the bound and no more")
	assert.Equal(t, chord(1<<11), p.at(5), "a semitone under C is B")
	assert.Zero(t, p.at(mostMoments))
}

// The means can be worked out on paper from the table of weights.
func TestPrefer(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		why            string
		parts          []*Part
		first, second  Shifts
		one, two       float64
		passages       int
		clear, against bool
	}{
		{"a clarinet in B flat in unison with a flute: 1; read as it stands, a whole tone: −0.5",
			[]*Part{play(10, "C - - -"), play(10, "D - - -")}, Shifts{0, -2}, Shifts{0, 0}, 1, -0.5, 10, true, false},
		{"the other way round", []*Part{play(10, "C - - -"), play(10, "D - - -")}, Shifts{0, 0}, Shifts{0, -2}, -0.5, 1, 10, false, true},
		{"unison, third, fourth, third are 1.9 of 4; whole tones and a fifth are −1.1 of 4",
			[]*Part{play(10, "C E G E"), play(10, "D - - -")}, Shifts{0, -2}, Shifts{0, 0}, 0.475, -0.275, 10, true, false},
		{"seven passages are too few", []*Part{play(7, "C - - -"), play(7, "D - - -")}, Shifts{0, -2}, Shifts{0, 0}, 1, -0.5, 7, false, false},
		{"by turns tells nothing", []*Part{play(10, "C r C r"), play(10, "r D r D")}, Shifts{0, -2}, Shifts{0, 0}, 0, 0, 0, false, false},
		{"alike: two clarinets alone", []*Part{play(10, "C E G E"), play(10, "E G C C")}, Shifts{-2, -2}, Shifts{0, 0}, 0, 0, 0, false, false},
		{"alike by an octave more", []*Part{play(10, "C E G E"), play(10, "E G C C")}, Shifts{-14, -2}, Shifts{0, 0}, 0, 0, 0, false, false},
		{"horn in F and clarinet in B flat alone, both on sounding C; as they stand G and D, a fifth",
			[]*Part{play(10, "G - - -"), play(10, "D - - -")}, Shifts{-7, -2}, Shifts{0, 0}, 1, 0.4, 10, true, false},
		{"a doubled note counts twice: flute and oboe on C, clarinet on D and E: (−0.5 + 0.25) against (1 − 0.5) of each",
			[]*Part{play(10, "C - - -"), play(10, "C - - -"), play(10, "D+E - - -")}, Shifts{0, 0, -2}, Shifts{0, 0, 0}, 0.25, -0.125, 10, true, false},
	} {
		p := ear(t).Prefer(test.parts, test.first, test.second)
		assert.InDelta(t, test.one, p.First, 1e-9, test.why)
		assert.InDelta(t, test.two, p.Second, 1e-9, test.why)
		assert.InDelta(t, test.one-test.two, p.Margin, 1e-9, test.why)
		assert.Equal(t, test.passages, p.Passages, test.why)
		assert.Equal(t, test.clear, p.Clear(), test.why)
		assert.Equal(t, test.against, p.Opposite().Clear(), test.why)
	}
}

// Four passages of 1 and four of 0 (one interval each): mean 0.5, each off by 0.5,
// standard error √(8 × 0.25) / 8.
func TestWeigh(t *testing.T) {
	t.Parallel()
	var passages []passage
	for i := range 8 {
		passages = append(passages, passage{1, full * (i % 2)}, passage{})
	}
	e := weigh(passages)
	assert.Equal(t, 8, e.Passages, "silence is no evidence")
	assert.InDelta(t, 0.5, e.Margin, 1e-12)
	assert.InDelta(t, math.Sqrt(2)/8, e.Spread, 1e-12)
	assert.False(t, e.Clear(), "0.5 is under three times 0.177")
	assert.Equal(t, Evidence{}, weigh(nil))
	for _, test := range []struct {
		e     Evidence
		clear bool
	}{
		{Evidence{0.1, 8, 0.03}, true}, {Evidence{0.099, 8, 0.03}, false}, {Evidence{0.1, 7, 0.03}, false}, {Evidence{0.1, 8, 0.034}, false},
		{Evidence{-0.5, 80, 0.01}, false},
	} {
		assert.Equal(t, test.clear, test.e.Clear(), "%+v", test.e)
	}
}

// chorale is a phrase in C major for four, eight bars of common chords.
var chorale = []string{
	"E - F E D - C - E F G G E - - - G A G F E D C - D E D D C - - -",
	"C - C C C B C - C C C B C - - - C C C C C B G - A C B B C - - -",
	"G - A G G - E - G A G G G - - - E F G A G G E - F G G F E - - -",
	"C - F C G - A - C F C G C - - - C F E F C G C - D C G G C - - -",
}

func choraleParts(shifts ...int) []Heard {
	var all []Heard
	for i, shift := range shifts {
		p := play(2, chorale[i])
		moved := &Part{}
		for moment, notes := range p.moments {
			moved.moments = append(moved.moments, 0)
			for semitone := range 12 {
				if notes&(1<<semitone) != 0 {
					moved.moments[moment] |= 1 << class(semitone-shift)
				}
			}
		}
		all = append(all, Heard{Part: moved, Shift: shift})
	}
	return all
}

// figure is a clarinet that has the fifth of every chord, with the roots and the
// thirds, in four bars that return: as the root it would sound smoother still.
func figure(times int) (parts []Heard) {
	for i, bars := range []string{"G - - - C - - - D - - - G - - - ", "C - - - F - - - G - - - C - - - ", "E - - - A - - - B - - - E - - - "} {
		parts = append(parts, Heard{Part: play(2, strings.TrimSpace(strings.Repeat(bars, times))), Sure: i > 0})
	}
	return parts
}

func TestDoubts(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		why    string
		parts  func() []Heard
		doubts []string // part: shift
	}{
		{"as it should be", func() []Heard { return choraleParts(0, -2, -9, 0) }, nil},
		{"a clarinet in B flat taken for one in A", func() []Heard { all := choraleParts(0, -2, -9, 0); all[1].Shift = -3; return all }, []string{"1: 1"}},
		{"… where no part can be otherwise", func() []Heard {
			all := choraleParts(0, -2, -9, 0)
			all[1].Shift = -3
			for i := range all {
				all[i].Sure = true
			}
			return all
		}, nil},
		{"a horn in F taken for one in E flat: a tone too low", func() []Heard { all := choraleParts(0, -2, -7, 0); all[2].Shift = -9; return all }, []string{"2: 2"}},
		{"taken a fifth too high", func() []Heard { all := choraleParts(0, -2, -9, 0); all[2].Shift = -2; return all }, []string{"2: 5"}},
		{"an octave is not heard", func() []Heard { all := choraleParts(0, -2, -7, 0); all[2].Shift = 5; return all }, nil},
		{"two of eight at once, each its own", func() []Heard {
			all := append(choraleParts(0, -2, -9, 0), choraleParts(0, -2, -9, 0)...)
			all[1].Shift, all[6].Shift = 0, -7
			return all
		}, []string{"1: -2", "6: -2"}},
		{"one alone", func() []Heard { return choraleParts(-2)[:1] }, nil},
		{"a figure of four bars, however often", func() []Heard { return figure(20) }, nil},
		{"two clarinets taken for ones in A: kin are not heard against each other", func() []Heard {
			all := choraleParts(0, -2, -2, 0)
			for i := 1; i < 3; i++ {
				all[i].Shift, all[i].Kin = -3, "clarinet"
			}
			return all
		}, []string{"1: 1", "2: 1"}},
	} {
		var found []string
		for _, d := range ear(t).Doubts(test.parts()) {
			found = append(found, fmt.Sprintf("%d: %d", d.Part, d.Shift))
			assert.Positive(t, d.Margin, test.why)
		}
		assert.Equal(t, test.doubts, found, test.why)
	}
	given := choraleParts(0, -2, -9, 0)
	given[1].Shift = -3
	ear(t).Doubts(given)
	assert.Equal(t, -3, given[1].Shift, "what was given is left alone")
}

// Music without any key tells nothing, and that is what must be said: of 300 scores
// of random notes none is told, whichever way, and hardly a part doubted (chance
// alone may exceed three times its error once in some hundreds).
func TestMusicWithoutKey(t *testing.T) {
	t.Parallel()
	told, doubted, parts := 0, 0, 0
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 12))
		var all []*Part
		var heard []Heard
		for i := range 5 {
			var words []string
			for range 160 {
				words = append(words, []string{"C", "C#", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B", "r"}[r.IntN(13)])
			}
			p := play(1, strings.Join(words, " "))
			all = append(all, p)
			heard = append(heard, Heard{Part: p, Shift: -i})
		}
		p := ear(t).Prefer(all, Shifts{0, 0, 0, -2, -7}, Shifts{0, 0, 0, 0, 0})
		if p.Clear() || p.Opposite().Clear() {
			told++
		}
		doubted += len(ear(t).Doubts(heard))
		parts += len(heard)
	}
	assert.Zero(t, told)
	assert.LessOrEqual(t, doubted, parts/100, "of %d", parts)
}
