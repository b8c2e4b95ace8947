package marking

// A file may hold a whole sheet, one exercise after another on a staff. Its bars are
// then aligned with those of all keys in a row, whole exercises left out for
// nothing: what lies between two ends is an answer.

// section is the bars of a staff, from one to before another, that answer a key.
type section struct {
	key      *Key
	from, to int
}

// Costs of the division, in hundredths of a note.
const (
	costEnter   = 40 // of taking up an exercise at all
	mostDivided = 1000
)

// divide finds the exercises on a staff; one or none where it is not divided.
func (m Marker) divide(answer *music) []section {
	if len(m.Keys) < 2 || len(answer.bars) > mostDivided || !m.mayHoldSeveral(answer) {
		return nil
	}
	d := divider{marker: m, answer: answer, ends: [][]int{make([]int, len(answer.bars)+1)}}
	for k := range answer.bars {
		d.ends[0][k+1] = d.ends[0][k] + d.between(k)
	}
	for _, key := range m.Keys {
		d.takeUp(key)
	}
	return d.sections()
}

// mayHoldSeveral reports whether a staff has clearly more notes than one exercise.
func (m Marker) mayHoldSeveral(answer *music) bool {
	least := 0
	for i, k := range m.Keys {
		if n := len(k.expected.heads); i == 0 || n < least {
			least = n
		}
	}
	return 10*len(answer.heads) >= 15*least
}

// divider is the work on one staff. ends[x][k] is the least cost of the first k bars
// with the first x keys, rows[x] the table of costs within key x.
type divider struct {
	marker   Marker
	answer   *music
	aligners []*barAligner
	rows     [][][]int
	ends     [][]int
}

// between is the cost of a bar that answers nothing.
func (d *divider) between(k int) int {
	if g, _ := d.answer.inBar(k); len(g) > 0 {
		return costMissed*len(g) + costAdded
	}
	return 0
}

// takeUp adds a key.
func (d *divider) takeUp(key *Key) {
	a := newBarAligner(key.expected, d.answer)
	before := d.ends[len(d.ends)-1]
	n, m := len(a.key.bars), len(d.answer.bars)
	rows := make([][]int, n+1)
	for i := range rows {
		rows[i] = make([]int, m+1)
		for k := range rows[i] {
			best := -1
			offer := func(cost int) {
				if best < 0 || cost < best {
					best = cost
				}
			}
			if i == 0 {
				offer(before[k] + costEnter)
			}
			a.offers(rows, i, k, offer)
			rows[i][k] = best
		}
	}
	after := make([]int, m+1)
	for k := range after {
		after[k] = min(before[k], rows[n][k])
		if k > 0 {
			after[k] = min(after[k], after[k-1]+d.between(k-1))
		}
	}
	d.aligners, d.rows, d.ends = append(d.aligners, a), append(d.rows, rows), append(d.ends, after)
}

// sections walks back through the tables.
func (d *divider) sections() []section {
	var list []section
	k := len(d.answer.bars)
	for x := len(d.rows); x > 0; {
		before, rows, at := d.ends[x-1], d.rows[x-1], d.ends[x][k]
		n := len(rows) - 1
		switch {
		case at == before[k]:
			x--
		case at == rows[n][k]:
			from := d.entered(x-1, k)
			list = append([]section{{d.marker.Keys[x-1], from, k}}, list...)
			k = from
			x--
		default:
			k--
		}
	}
	return list
}

// entered walks back through a key's rows to the bar where its answer begins.
func (d *divider) entered(x, k int) int {
	a, rows, before := d.aligners[x], d.rows[x], d.ends[x]
	for i := len(rows) - 1; ; {
		at := rows[i][k]
		switch {
		case i == 0 && at == before[k]+costEnter:
			return k
		case i > 0 && k > 0 && at == rows[i-1][k-1]+a.take(i-1, k-1):
			i, k = i-1, k-1
		case i > 0 && at == rows[i-1][k]+a.miss(i-1, k):
			i--
		default:
			k -= max(a.repeatAt(rows, i, k), 1)
		}
	}
}
