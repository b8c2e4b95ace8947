package engraving

import (
	"math"
	"slices"
	"sort"
)

// notice is something outside the staff whose height is still open: letters, a
// hairpin, a line. Heights are measured from its own line, the baseline of letters
// or the axis of a hairpin.
type notice struct {
	left, right float64
	// up and down are how far it reaches above and below its line.
	up, down float64
	bar      int
	// rank orders notices that cannot stand side by side: the lower keeps the row
	// next to the staff.
	rank int
	draw func(at float64)
}

// shelf says how a kind of notice is placed.
type shelf struct {
	above bool
	// gap is the air towards the notes, between that to the next notice beside it.
	gap, between float64
	// reach is how near neighbours must be to share a height.
	reach float64
	// least is how far the line of the first row keeps from the staff.
	least float64
}

// place gives every notice a height: those that would run into each other stand in
// rows, and neighbours in a row share one height, clear of all ink so far.
func (st *staffInk) place(list []notice, s shelf) {
	for _, row := range rowsOf(list, s.between) {
		for from := 0; from < len(row); {
			to, right := from+1, row[from].right
			for to < len(row) && row[to].left-right <= s.reach {
				right = max(right, row[to].right)
				to++
			}
			st.placeChain(row[from:to], s)
			from = to
		}
	}
}

// rowsOf sorts notices into rows in which none runs into another. Those of low
// rank choose first.
func rowsOf(list []notice, between float64) [][]notice {
	sort.SliceStable(list, func(i, j int) bool {
		if list[i].rank != list[j].rank {
			return list[i].rank < list[j].rank
		}
		return list[i].left < list[j].left
	})
	var rows [][]notice
	for _, n := range list {
		at := 0
		for at < len(rows) && meetsAny(rows[at], n, between) {
			at++
		}
		if at == len(rows) {
			rows = append(rows, nil)
		}
		rows[at] = append(rows[at], n)
	}
	for _, row := range rows {
		sort.SliceStable(row, func(i, j int) bool { return row[i].left < row[j].left })
	}
	return rows
}

func meetsAny(row []notice, n notice, between float64) bool {
	return slices.ContainsFunc(row, func(other notice) bool { return n.left < other.right+between && other.left < n.right+between })
}

// placeChain places neighbours at one height.
func (st *staffInk) placeChain(chain []notice, s shelf) {
	at := st.sky.bottom + s.least
	if s.above {
		at = st.sky.top - s.least
	}
	for _, n := range chain {
		if s.above {
			at = min(at, st.sky.above(n.left, n.right)-s.gap-n.down)
		} else {
			at = max(at, st.sky.below(n.left, n.right)+s.gap+n.up)
		}
	}
	at = math.Round(at*20) / 20
	for _, n := range chain {
		st.ofBar(n.bar)
		n.draw(at)
		st.sky.add(n.left, n.right, at-n.up, at+n.down)
	}
}
