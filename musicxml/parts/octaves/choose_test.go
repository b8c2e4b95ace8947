package octaves

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// wayPrice adds up what a choice of octaves costs.
func wayPrice(phrases []Phrase, chosen []int, c Compass) int64 {
	sum := int64(0)
	for i, octave := range chosen {
		sum += c.prices(&phrases[i])[octave+Farthest]
		if i > 0 {
			price := priceOf[phrases[i].Before]
			if after := phrases[i].Leap + 12*(octave-chosen[i-1]); phrases[i].Before == AtBar && phrases[i].Leap != 0 && after*after <= phrases[i].Leap*phrases[i].Leap {
				price = priceNarrower
			}
			sum += price * int64(distance(octave, chosen[i-1]))
		}
	}
	return sum
}

// cheapestByTrying is the slow twin: every way through the phrases.
func cheapestByTrying(phrases []Phrase, chosen []int, c Compass) int64 {
	if len(chosen) == len(phrases) {
		return wayPrice(phrases, chosen, c)
	}
	best := int64(-1)
	for o := -Farthest; o <= Farthest; o++ {
		if way := cheapestByTrying(phrases, append(chosen[:len(chosen):len(chosen)], o), c); best < 0 || way < best {
			best = way
		}
	}
	return best
}

func TestChooseAgainstTryingAll(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(4, 9))
	for range 200 {
		phrases := make([]Phrase, random.IntN(5))
		for i := range phrases {
			phrases[i].Before, phrases[i].Leap = Break(random.IntN(4)), random.IntN(31)-15
			for range random.IntN(6) {
				phrases[i].Sounds = append(phrases[i].Sounds, 30+random.IntN(60))
			}
		}
		c := Compass{Low: 40, High: 76, ExpectedLow: 46, ExpectedHigh: 70, ComfortableLow: 50, ComfortableHigh: 64, WritableLow: 6, WritableHigh: 123}
		chosen := Choose(phrases, c)
		require.Len(t, chosen, len(phrases))
		require.Equal(t, cheapestByTrying(phrases, nil, c), wayPrice(phrases, chosen, c))
	}
}

// The prices' proportions, which the package's comment states.
func TestPrices(t *testing.T) {
	t.Parallel()
	c := Compass{Low: 40, High: 76, ExpectedLow: 46, ExpectedHigh: 70, ComfortableLow: 50, ComfortableHigh: 64, WritableLow: 6, WritableHigh: 123}
	assert.Zero(t, c.price(60, 0))
	for sound, want := range map[int]int64{49: priceStrained + priceStrainOn, 50: 0, 64: 0, 65: priceStrained + priceStrainOn, 46: priceStrained + 4*priceStrainOn, 45: priceStrange + priceStranger, 70: priceStrained + 6*priceStrainOn,
		71: priceStrange + priceStranger, 40: priceStrange + 6*priceStranger, 39: priceMissing + priceFurther, 76: priceStrange + 6*priceStranger, 6: priceMissing + 34*priceFurther, 5: priceUnwritten, 123: priceMissing + 47*priceFurther, 124: priceUnwritten} {
		assert.Equal(t, want, c.price(sound, 0), "%d", sound)
	}
	assert.Equal(t, int64(priceStrained+3*priceStrainOn), c.price(67, 0), "three semitones past comfort")
	assert.Equal(t, int64(priceStrange+2*priceStranger), c.price(72, 0), "two past what is expected")
	assert.Equal(t, int64(priceMissing+priceFurther), c.price(77, 0), "one past what there is")
	assert.Equal(t, priceAway[1], c.price(72, -1))
	assert.Equal(t, int64(priceUnwritten), c.price(127, 0))
	assert.Greater(t, int64(priceMissing), 1000*priceOf[AtBar], "a note that nobody has is worth any change")
	assert.Greater(t, priceOf[AtBar], 20*int64(priceStrange+6*priceStranger), "twenty notes that lie badly are not worth one in the middle of a phrase")
	assert.Greater(t, priceAway[2], int64(priceStrange), "a note out of the expected range rather than two octaves away")
}
