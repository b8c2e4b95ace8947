package marking

import "slices"

// A file may hold a whole sheet, one exercise after another on a staff, each with its
// question before it or without. Its bars are then aligned with those of all keys in a
// row, whole exercises left out for nothing: what lies between two ends is an answer. What
// stands in another order is found in what is left over.

// piece is what a run of bars may be: the answer to a key, or its question.
type piece struct {
	key      *Key
	music    *music
	question bool
}

// section is the bars of a staff, from one to before another, that are a piece.
type section struct {
	piece
	from, to int
}

// Costs of the division, in hundredths of a note.
const (
	costEnter   = 40 // of taking up an exercise at all
	mostDivided = 1000
)

// divide finds the exercises on a staff; one or none where it is not divided.
func (m Marker) divide(answer *music) []section {
	if len(answer.bars) > mostDivided || 10*len(answer.heads) < 15*m.leastHeads() {
		return nil
	}
	var pieces []piece
	for _, key := range m.Keys {
		if key.given != nil && key.moved != same && len(exact(answer, []piece{{music: key.given}})) > 0 {
			pieces = append(pieces, piece{key, key.given, true})
		}
		pieces = append(pieces, piece{key, key.expected, false})
	}
	if len(pieces) < 2 {
		return nil
	}
	return m.fill(answer, pieces, exact(answer, pieces))
}

// exact finds the pieces that stand there bar for bar.
func exact(answer *music, pieces []piece) []section {
	var list []section
	for _, p := range pieces {
		for from, n := 0, len(p.music.bars); from+n <= len(answer.bars); from++ {
			taken := slices.ContainsFunc(list, func(s section) bool { return from < s.to && s.from < from+n })
			if !taken && answer.section(from, from+n).sameHeads(p.music) {
				list = append(list, section{p, from, from + n})
				break
			}
		}
	}
	return inPlace(list)
}

// inOrder finds pieces in their order, and those in another one in what is left over.
func (m Marker) inOrder(answer *music, pieces []piece) []section {
	d := divider{answer: answer, pieces: pieces, ends: [][]int{make([]int, len(answer.bars)+1)}}
	for k := range answer.bars {
		d.ends[0][k+1] = d.ends[0][k] + d.between(k)
	}
	for _, p := range pieces {
		d.takeUp(p)
	}
	if list := d.sections(); len(list) > 0 {
		return m.fill(answer, pieces, list)
	}
	return nil
}

// fill finds pieces between those that are found.
func (m Marker) fill(answer *music, pieces []piece, found []section) []section {
	left := slices.DeleteFunc(slices.Clone(pieces), func(p piece) bool {
		return slices.ContainsFunc(found, func(s section) bool { return s.piece == p })
	})
	all, from := found, 0
	for _, s := range append(slices.Clone(found), section{from: len(answer.bars)}) {
		rest := answer.section(from, s.from)
		if len(left) > 0 && 10*len(rest.heads) >= 7*m.leastHeads() {
			for _, more := range m.inOrder(rest, left) {
				all = append(all, section{more.piece, from + more.from, from + more.to})
			}
		}
		from = s.to
	}
	return inPlace(all)
}

// inPlace sorts sections by where they stand.
func inPlace(list []section) []section {
	slices.SortStableFunc(list, func(a, b section) int { return a.from - b.from })
	return list
}

// withoutPrinted leaves out the questions that stand before their answers; a question
// without an answer is one that was only copied.
func withoutPrinted(list []section) []section {
	return slices.DeleteFunc(slices.Clone(list), func(s section) bool {
		return s.question && slices.ContainsFunc(list, func(other section) bool { return other.key == s.key && !other.question })
	})
}

// leastHeads is how many notes the shortest exercise has.
func (m Marker) leastHeads() int {
	least := 0
	for i, k := range m.Keys {
		if n := len(k.expected.heads); i == 0 || n < least {
			least = n
		}
	}
	return least
}

// divider is the work on one staff. ends[x][k] is the least cost of the first k bars
// with the first x pieces, rows[x] the table of costs within piece x.
type divider struct {
	answer   *music
	pieces   []piece
	aligners []*barAligner
	rows     [][]costRow
	ends     [][]int
}

// between is the cost of a bar that answers nothing.
func (d *divider) between(k int) int {
	if g, _ := d.answer.inBar(k); len(g) > 0 {
		return costMissed*len(g) + costAdded
	}
	return 0
}

// takeUp adds a piece.
func (d *divider) takeUp(p piece) {
	a := newBarAligner(p.music, d.answer)
	before := d.ends[len(d.ends)-1]
	n, m := len(a.key.bars), len(d.answer.bars)
	rows := make([]costRow, n+1)
	for i := range rows {
		rows[i].costs = make([]int, 0, m+1)
		for k := range m + 1 {
			entered := never
			if i == 0 {
				entered = before[k] + costEnter
			}
			rows[i].put(k, a.least(rows, i, k, entered, never))
		}
	}
	after := make([]int, m+1)
	for k := range after {
		after[k] = min(before[k], rows[n].at(k))
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
		before, at := d.ends[x-1], d.ends[x][k]
		switch {
		case at == before[k]:
			x--
		case k > 0 && at == d.ends[x][k-1]+d.between(k-1):
			k-- // no part of the piece before it, at the same cost
		default:
			from := d.entered(x-1, k)
			list = append([]section{{d.pieces[x-1], from, k}}, list...)
			k = from
			x--
		}
	}
	return list
}

// entered walks back through a piece's rows to the bar where its answer begins.
func (d *divider) entered(x, k int) int {
	a, rows, before := d.aligners[x], d.rows[x], d.ends[x]
	for i := len(rows) - 1; ; {
		at := rows[i].at(k)
		switch {
		case i == 0 && at == before[k]+costEnter:
			return k
		case i > 0 && k > 0 && at == rows[i-1].at(k-1)+a.take(i-1, k-1):
			i, k = i-1, k-1
		case i > 0 && at == rows[i-1].at(k)+a.miss(i-1, k):
			i--
		default:
			k -= max(a.repeatAt(rows, i, k), 1)
		}
	}
}
