package written

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// wayCost adds up what a choice of octaves costs.
func wayCost(phrases []linePhrase, octaves []int) int64 {
	sum := int64(0)
	for i, o := range octaves {
		sum += phrases[i].cost[o+farthestOctave]
		if i > 0 {
			sum += phrases[i].change * int64(pitch.Abs(o-octaves[i-1]))
		}
	}
	return sum
}

// cheapestByTrying is the slow twin: every way through the phrases.
func cheapestByTrying(phrases []linePhrase, chosen []int) int64 {
	if len(chosen) == len(phrases) {
		return wayCost(phrases, chosen)
	}
	best := int64(-1)
	for o := -farthestOctave; o <= farthestOctave; o++ {
		if way := cheapestByTrying(phrases, append(chosen[:len(chosen):len(chosen)], o)); best < 0 || way < best {
			best = way
		}
	}
	return best
}

func TestCheapestWayAgainstTryingAll(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(4, 9))
	for range 300 {
		phrases := make([]linePhrase, random.IntN(5))
		for i := range phrases {
			phrases[i].change = random.Int64N(60)
			for o := range phrases[i].cost {
				phrases[i].cost[o] = random.Int64N(100)
			}
		}
		octaves := cheapestWay(phrases)
		require.Len(t, octaves, len(phrases))
		require.Equal(t, cheapestByTrying(phrases, nil), wayCost(phrases, octaves))
	}
}

func TestCheapestWayStaysNear(t *testing.T) {
	t.Parallel()
	assert.Equal(t, []int{0, 0}, cheapestWay(make([]linePhrase, 2)), "where all octaves cost the same, the score's own")
}

// An octave takes effect on every staff, and for every transposition in force.
func TestWithOctaves(t *testing.T) {
	t.Parallel()
	at := func(measure, staff, octave int) transpose.Stretch {
		return transpose.Stretch{Measure: measure, Staff: staff, To: transpose.Transposition{Chromatic: -2, Diatonic: -1}, Shift: pitch.Octaves(octave)}
	}
	change := func(measure, octave int) draft.OctaveChange {
		return draft.OctaveChange{At: musicxml.Position{Measure: measure}, Octave: octave}
	}
	for _, test := range []struct {
		name      string
		stretches []transpose.Stretch
		changes   []draft.OctaveChange
		want      []transpose.Stretch
	}{
		{"no octave", []transpose.Stretch{at(0, 0, 0)}, nil, []transpose.Stretch{at(0, 0, 0)}},
		{"all through", []transpose.Stretch{at(0, 0, 0)}, []draft.OctaveChange{change(0, 1)}, []transpose.Stretch{at(0, 0, 0), at(0, 0, 1)}},
		{"a later change", []transpose.Stretch{at(0, 0, 0)}, []draft.OctaveChange{change(3, -1), change(5, 0)},
			[]transpose.Stretch{at(0, 0, 0), at(3, 0, -1), at(5, 0, 0)}},
		{"a transposition that changes under it", []transpose.Stretch{at(0, 0, 0), at(4, 0, 0)}, []draft.OctaveChange{change(3, 1)},
			[]transpose.Stretch{at(0, 0, 0), at(3, 0, 1), at(4, 0, 1)}},
		{"staves apart", []transpose.Stretch{at(0, 1, 0), at(0, 2, 0)}, []draft.OctaveChange{change(2, 1)},
			[]transpose.Stretch{at(0, 1, 0), at(0, 2, 0), at(2, 1, 1), at(2, 2, 1)}},
	} {
		assert.Equal(t, test.want, withOctaves(test.stretches, test.changes), test.name)
	}
}

// Notes of an instrument from C4 to C6, comfortable from G4 to G5, at sounding pitch.
func TestOctaveCosts(t *testing.T) {
	t.Parallel()
	w := octaveCosts{}
	w.compass.Low.Octave, w.compass.High.Octave = 4, 6
	w.compass.ComfortableLow.Step, w.compass.ComfortableLow.Octave = 4, 4
	w.compass.ComfortableHigh.Step, w.compass.ComfortableHigh.Octave = 4, 5
	assert.Equal(t, int64(0), w.note(72, 0), "C5 is comfortable")
	assert.Equal(t, int64(costStrained+7*costStrainedBy), w.note(60, 0), "C4 lies seven semitones below G4")
	assert.Equal(t, int64(costOutside+costFurther), w.note(59, 0), "B3 is a semitone out of range")
	assert.Equal(t, int64(costAway), w.note(60, 1), "C4 an octave higher is comfortable, and away from the score")
	assert.Less(t, 2*farthestOctave*int64(costAway), int64(costAtRest), "one note is no reason to move a phrase")
	assert.Greater(t, int64(costOutside), int64(2*costAtBreath), "a note out of range is worth a change there and back")
	assert.Equal(t, int64(costNever), w.note(10, 0), "MusicXML cannot write it")
}
