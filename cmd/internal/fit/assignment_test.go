package fit

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// bestByTrying is the slow twin: every way of giving columns to rows.
func bestByTrying(values [][]int64, row int, taken []bool) int64 {
	if row == len(values) {
		return 0
	}
	best := bestByTrying(values, row+1, taken)
	for c, v := range values[row] {
		if taken[c] {
			continue
		}
		taken[c] = true
		best = max(best, v+bestByTrying(values, row+1, taken))
		taken[c] = false
	}
	return best
}

func randomValues(random *rand.Rand, rows, columns int) [][]int64 {
	values := make([][]int64, rows)
	for r := range values {
		values[r] = make([]int64, columns)
		for c := range values[r] {
			if random.IntN(4) > 0 {
				values[r][c] = random.Int64N(12)
			}
		}
	}
	return values
}

// sumOf adds up an assignment and checks that it is one.
func sumOf(t *testing.T, values [][]int64, of []int) int64 {
	t.Helper()
	require.Len(t, of, len(values))
	taken := map[int]bool{}
	sum := int64(0)
	for r, c := range of {
		if c < 0 {
			continue
		}
		require.False(t, taken[c], "column %d is given away twice", c)
		require.Positive(t, values[r][c], "a pair of no value is made")
		taken[c] = true
		sum += values[r][c]
	}
	return sum
}

func TestBestAssignmentAgainstTryingAll(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(5, 2))
	for range 3000 {
		values := randomValues(random, random.IntN(7), 1+random.IntN(6))
		columns := 0
		if len(values) > 0 {
			columns = len(values[0])
		}
		of := bestAssignment(values)
		require.Equal(t, bestByTrying(values, 0, make([]bool, columns)), sumOf(t, values, of), "%v", values)
	}
}

// Of a linear programme and its dual equal values prove both best (weak duality):
// for sizes that nobody can try out, the potentials are that proof.
func TestBestAssignmentProvesItself(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(7, 1))
	for _, size := range []struct{ rows, columns int }{{1, 1}, {20, 20}, {36, 80}, {60, 61}} {
		values := randomValues(random, size.rows, size.columns)
		s := newSolver(values)
		for r := range values {
			s.augment(r)
		}
		dual, primal := int64(0), int64(0)
		for r := range values {
			dual += s.rowPotential[r]
			for c := range values[r] {
				require.GreaterOrEqual(t, s.reduced(r, c), int64(0))
			}
		}
		for c, r := range s.rowOf {
			dual += s.potential[c]
			if r >= 0 {
				primal += s.cost[r][c]
				require.Zero(t, s.reduced(r, c))
			} else {
				require.Zero(t, s.potential[c], "a column that is free has no price")
			}
		}
		assert.Equal(t, primal, dual)
	}
}

func TestBestAssignmentIsNotGreedy(t *testing.T) {
	t.Parallel()
	// Taking the greatest value first (9) leaves 1: 10 in all; 8 and 7 are 15.
	assert.Equal(t, []int{1, 0}, bestAssignment([][]int64{{9, 8}, {7, 1}}))
}
