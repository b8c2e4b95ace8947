package engraving_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving"
)

// cheapest tries every way to cut the bars from first on into lines.
func cheapest(l *engraving.Layout, first, last int) float64 {
	if first > last {
		return 0
	}
	best := math.Inf(1)
	for end := first; end <= last; end++ {
		for _, line := range l.LinesTo(end) {
			if line.First == first {
				best = min(best, line.Cost+cheapest(l, end+1, last))
			}
		}
	}
	return best
}

// Lines are broken as cheaply as they can be: held against a search over all ways.
func TestLinesAreBrokenBest(t *testing.T) {
	t.Parallel()
	for seed := range uint64(30) {
		m := tune{rand.New(rand.NewPCG(seed, 9))}.music()
		l, err := engraving.NewLayout(m, engraving.Options{Width: 45})
		require.NoError(t, err)
		first, last := l.Bars()
		sum, next := 0.0, first
		for _, line := range l.Break() {
			assert.Equal(t, next, line.First)
			next = line.Last + 1
			sum += line.Cost
		}
		assert.Equal(t, last+1, next)
		assert.InDelta(t, cheapest(l, first, last), sum, 1e-9, "seed %d", seed)
	}
}
