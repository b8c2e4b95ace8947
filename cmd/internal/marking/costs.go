package marking

import "math"

// Tables of costs are large where the music is long, and what is looked at lies near the
// diagonal: only that is kept.

// never is the cost of what is not tried.
const never = math.MaxInt / 2

// costRow is a row of a table, from a column on; all others are never.
type costRow struct {
	from  int
	costs []int
}

func (r *costRow) at(k int) int {
	if i := k - r.from; i >= 0 && i < len(r.costs) {
		return r.costs[i]
	}
	return never
}

// put appends the cost of the next column; what is never at the beginning is left out.
func (r *costRow) put(k, cost int) {
	if len(r.costs) == 0 {
		if cost >= never {
			return
		}
		r.from = k
	}
	r.costs = append(r.costs, cost)
}

// end leaves out what stands behind a column.
func (r *costRow) end(k int) {
	if n := k + 1 - r.from; n < len(r.costs) {
		r.costs = r.costs[:n]
	}
}

// blockColumns is how many columns of a row are kept together.
const blockColumns = 32

// block is a piece of a row, each cost one more than it is; 0 is one that is not known.
type block [blockColumns]int32

// knownCosts are costs by row and column that are worked out when they are asked for.
type knownCosts [][]*block

func newKnownCosts(rows, columns int) knownCosts {
	t := make(knownCosts, rows)
	for i := range t {
		t[i] = make([]*block, (columns+blockColumns-1)/blockColumns)
	}
	return t
}

// of returns the cost of a cell, which is worked out once.
func (t knownCosts) of(i, k int, work func() int) int {
	b := &t[i][k/blockColumns]
	if *b == nil {
		*b = new(block)
	}
	cell := &(*b)[k%blockColumns]
	if *cell == 0 {
		*cell = int32(work()) + 1
	}
	return int(*cell) - 1
}
