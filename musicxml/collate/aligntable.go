package collate

import "slices"

// table holds the costs of aligning two lists: two rows of costs, and for every
// cell and state the state that it was best reached from.
type table struct {
	rows, columns int
	band          int // how far from the diagonal cells are looked at
	now, before   [][states]int
	from          [][states]uint8
	ends          [states]int
}

func newTable(rows, columns, band int) *table {
	t := &table{rows: rows, columns: columns, band: min(band, rows+columns)}
	t.now, t.before = make([][states]int, columns+1), make([][states]int, columns+1)
	t.from = make([][states]uint8, (rows+1)*t.width())
	return t
}

// width is the number of cells kept of each row.
func (t *table) width() int { return min(t.columns+1, 2*t.band+1) }

// left and right bound the cells of a row that are looked at.
func (t *table) left(i int) int { return max(0, t.middle(i)-t.band) }

func (t *table) right(i int) int { return min(t.columns, t.middle(i)+t.band) }

// middle is where the diagonal passes a row.
func (t *table) middle(i int) int { return i * t.columns / t.rows }

func (t *table) cell(i, k int) *[states]uint8 {
	return &t.from[i*t.width()+k-min(t.left(i), t.columns+1-t.width())]
}

// fill works out a cell: pair is the cost of pairing what leads to it. Rows are
// filled from the first, cells from the left.
func (t *table) fill(i, k, pair int) {
	if k == t.left(i) {
		t.now, t.before = t.before, t.now
	}
	costs, from := &t.now[k], t.cell(i, k)
	*costs = [states]int{farAway, farAway, farAway}
	if i == 0 && k == 0 {
		costs[paired] = 0
	}
	if i > 0 && k > 0 && t.holds(i-1, k-1) {
		costs[paired], from[paired] = cheapest(t.before[k-1], pair, pair, pair)
	}
	if i > 0 && t.holds(i-1, k) {
		costs[alone], from[alone] = cheapest(t.before[k], openGap+gapCost, gapCost, openGap+gapCost)
	}
	if k > 0 && t.holds(i, k-1) {
		costs[added], from[added] = cheapest(t.now[k-1], openGap+gapCost, openGap+gapCost, gapCost)
	}
	t.ends = *costs
}

func (t *table) holds(i, k int) bool { return k >= t.left(i) && k <= t.right(i) }

// cheapest chooses the state to come from.
func cheapest(costs [states]int, steps ...int) (int, uint8) {
	best, state := farAway, uint8(0)
	for s, cost := range costs {
		if c := min(cost, farAway) + steps[s]; c < best {
			best, state = c, uint8(s)
		}
	}
	return min(best, farAway), state
}

// path goes back from the last cell and returns the steps in order, bars counted
// from the given ones.
func (t *table) path(want, got int) []step {
	state := uint8(0)
	for s := range t.ends {
		if t.ends[s] < t.ends[state] {
			state = uint8(s)
		}
	}
	var steps []step
	for i, k := t.rows, t.columns; i > 0 || k > 0; {
		before := uint8(paired)
		if t.holds(i, k) {
			before = t.cell(i, k)[state]
		}
		switch {
		case state == paired && i > 0 && k > 0:
			i, k = i-1, k-1
			steps = append(steps, step{want + i, got + k})
		case (state == alone || k == 0) && i > 0:
			i--
			steps = append(steps, step{want + i, -1})
		default:
			k--
			steps = append(steps, step{-1, got + k})
		}
		state = before
	}
	slices.Reverse(steps)
	return steps
}
