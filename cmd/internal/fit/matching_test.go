package fit

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// bestByTrying is the slow twin: every way of giving a column to each row. It returns
// less than 0 where there is no way.
func bestByTrying(values [][]int64, row int, taken []bool) int64 {
	if row == len(values) {
		return 0
	}
	best := forbidden
	for c, v := range values[row] {
		if taken[c] || v == forbidden {
			continue
		}
		taken[c] = true
		if rest := bestByTrying(values, row+1, taken); rest >= 0 {
			best = max(best, v+rest)
		}
		taken[c] = false
	}
	return best
}

func randomRow(random *rand.Rand, columns int) []int64 {
	row := make([]int64, columns)
	for c := range row {
		row[c] = random.Int64N(12)
		if random.IntN(4) == 0 {
			row[c] = forbidden
		}
	}
	return row
}

// sum adds up who has what and checks that it is an assignment of all rows.
func (s *matching) sum(t *testing.T, values [][]int64) int64 {
	t.Helper()
	had := map[int]bool{}
	sum := int64(0)
	for c, r := range s.rowOf {
		if r < 0 {
			continue
		}
		require.False(t, had[r], "row %d has two columns", r)
		require.NotEqual(t, forbidden, values[r][c], "a pair that must not be made")
		had[r] = true
		sum += values[r][c]
	}
	require.Len(t, had, len(values))
	return sum
}

// Row by row the sum is the best there is, grows by what was said, and a row is
// refused only where no way seats it with the others.
func TestSeatsAgainstTryingAll(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(5, 2))
	for range 3000 {
		columns := 1 + random.IntN(6)
		s := newMatching(columns)
		var values [][]int64
		sum := int64(0)
		for range columns + 1 {
			row := randomRow(random, columns)
			want := bestByTrying(append(values, row), 0, make([]bool, columns))
			gain, ok := s.gain(row)
			require.Equal(t, want >= 0, ok, "%v and %v", values, row)
			if !ok {
				continue
			}
			require.Equal(t, want-sum, gain)
			values = append(values, row)
			s.add(row)
			sum = s.sum(t, values)
			require.Equal(t, want, sum)
		}
	}
}

// Of a linear programme and its dual equal values prove both best (weak duality):
// for sizes that nobody can try out, the potentials are that proof.
func TestSeatsProveThemselves(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(7, 1))
	for _, size := range []struct{ rows, columns int }{{1, 1}, {20, 20}, {36, 80}, {60, 61}} {
		s := newMatching(size.columns)
		for range size.rows {
			if row := randomRow(random, size.columns); ok(s.gain(row)) {
				s.add(row)
			}
		}
		require.NotEmpty(t, s.cost)
		dual, primal := int64(0), int64(0)
		for r := range s.cost {
			dual += s.rowPotential[r]
			for c := range s.cost[r] {
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

func ok(_ int64, ok bool) bool { return ok }

func TestSeatsAreNotGreedy(t *testing.T) {
	t.Parallel()
	// The first row takes 9; with the second, 8 and 7 are 15, 9 and 1 but 10.
	s := newMatching(2)
	s.add([]int64{9, 8})
	assert.Equal(t, []int{0, -1}, s.rowOf)
	s.add([]int64{7, 1})
	assert.Equal(t, []int{1, 0}, s.rowOf)
}
