package collate

import "deskpart/transpose/pitch"

// step is one step of the alignment of bars: a bar of the score, the bar of the
// part that answers it, or one of them alone (-1 for none).
type step struct{ want, got int }

// What the alignment of bars costs. A bar without a counterpart costs less than
// two bars that have nothing in common, and a run of them less than the same
// number here and there.
const (
	openGap    = 20
	gapCost    = 100
	unlikeBars = 150
	otherMark  = 1 // for each outer sign of a bar that differs: number, metre, rehearsal mark
)

// mostCells bounds the table of costs; beyond it only bars near the diagonal are
// compared.
const mostCells = 8 << 20

// alignBars pairs the bars of a score's staff and of a part with the least cost of
// changes (Needleman and Wunsch 1970, with Gotoh's cost of opening a gap, 1982). A
// partial part has some of the staff's notes.
func alignBars(want, got []bar, moved int, partial bool) []step {
	a := barAligner{want: want, got: got, partial: partial, wantPrints: printsOf(want, 0), gotPrints: printsOf(got, moved), cells: mostCells}
	return a.align()
}

func (a *barAligner) align() []step {
	want, got := a.want, a.got
	head := 0
	for head < len(want) && head < len(got) && a.cost(head, head) == 0 {
		head++
	}
	tail := 0
	for tail < len(want)-head && tail < len(got)-head && a.cost(len(want)-1-tail, len(got)-1-tail) == 0 {
		tail++
	}
	steps := make([]step, 0, max(len(want), len(got)))
	for i := range head {
		steps = append(steps, step{i, i})
	}
	steps = append(steps, a.middle(head, len(want)-tail, head, len(got)-tail)...)
	for i := tail; i > 0; i-- {
		steps = append(steps, step{len(want) - i, len(got) - i})
	}
	return steps
}

type barAligner struct {
	want, got             []bar
	partial               bool
	wantPrints, gotPrints []print
	cells                 int // the most of the table
}

// cost says how unlike two bars are: 0 not at all, unlikeBars where no note of one
// is in the other.
func (a *barAligner) cost(i, k int) int {
	w, g := &a.wantPrints[i], &a.gotPrints[k]
	cost := 0
	if w.hash != g.hash {
		most := max(len(w.notes), len(g.notes))
		if a.partial {
			most = max(len(g.notes), 1)
		}
		alike := 2*common(w.notes, g.notes) + common(w.rhythms, g.rhythms)
		cost = unlikeBars - unlikeBars*min(alike, 3*most)/(3*most)
		cost = max(cost, 4*otherMark)
	}
	if a.want[i].number != a.got[k].number {
		cost += otherMark
	}
	if a.want[i].metre != a.got[k].metre {
		cost += otherMark
	}
	if rehearsalOf(&a.want[i]) != rehearsalOf(&a.got[k]) {
		cost += otherMark
	}
	return cost
}

func rehearsalOf(b *bar) string {
	for i := range b.marks {
		if b.marks[i].kind == Rehearsal {
			return b.marks[i].key
		}
	}
	return ""
}

// The states of the alignment: the last step was a pair, a bar of the score alone,
// a bar of the part alone.
const (
	paired = iota
	alone
	added
	states
)

const farAway = 1 << 30

// middle aligns bars from..to of the score and first..last of the part.
func (a *barAligner) middle(from, to, first, last int) []step {
	rows, columns := to-from, last-first
	if rows == 0 || columns == 0 {
		return lonely(from, to, first, last)
	}
	band := rows + columns
	if rows*columns > a.cells {
		band = max(a.cells/(2*rows), pitch.Abs(rows-columns)) + 1
	}
	t := newTable(rows, columns, band)
	for i := 0; i <= rows; i++ {
		for k := t.left(i); k <= t.right(i); k++ {
			pair := farAway
			if i > 0 && k > 0 {
				pair = a.cost(from+i-1, first+k-1)
			}
			t.fill(i, k, pair)
		}
	}
	return t.path(from, first)
}

func lonely(from, to, first, last int) []step {
	var steps []step
	for i := from; i < to; i++ {
		steps = append(steps, step{i, -1})
	}
	for k := first; k < last; k++ {
		steps = append(steps, step{-1, k})
	}
	return steps
}
