package collate

import (
	"cmp"
	"slices"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// pair is a note of the score and the one of the part that answers it, by their
// places in their bars; -1 where there is none.
type pair struct{ want, got int }

// notePairer pairs the notes of two bars.
type notePairer struct {
	want, got []note
	moved     int // added to the heights of got
	pairs     []pair
	wantLeft  []int // not yet paired
	gotLeft   []int
}

// pairNotes pairs the notes of two bars: those that are the same at the same
// moment; those that are the same when tied notes are joined; and what is left
// over with the least cost of changes. In a single line all notes are paired with
// the least cost if some are left over, for after a note that is too short a
// repeated note may come where the one before it should. The pairs come in the
// order of time.
func pairNotes(want, got []note, moved int) []pair {
	p := notePairer{want: want, got: got, moved: moved}
	p.same()
	if len(p.wantLeft) > 0 && len(p.gotLeft) > 0 {
		p.joinTies()
	}
	if len(p.wantLeft) > 0 && len(p.gotLeft) > 0 && isLine(want) && isLine(got) {
		p.pairs, p.wantLeft, p.gotLeft = nil, numbers(len(want)), numbers(len(got))
	}
	p.alignRest()
	slices.SortStableFunc(p.pairs, func(a, b pair) int { return p.time(a).Cmp(p.time(b)) })
	return p.pairs
}

// isLine reports whether the notes of a bar sound one after another.
func isLine(notes []note) bool {
	for i := 1; i < len(notes); i++ {
		if a, b := &notes[i-1], &notes[i]; b.onset.Less(a.end()) || a.grace == 0 && b.onset == a.onset {
			return false
		}
	}
	return true
}

func numbers(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

func (p *notePairer) time(q pair) musicxml.Fraction {
	if q.want >= 0 {
		return p.want[q.want].onset
	}
	return p.got[q.got].onset
}

// same pairs notes that begin, last and sound alike; among several the one that
// is tied alike.
func (p *notePairer) same() {
	index := map[uint64][]int{}
	for k := range p.got {
		h := mix(rhythmHash(&p.got[k]), heightHash(&p.got[k], p.moved))
		index[h] = append(index[h], k)
	}
	taken := make([]bool, len(p.got))
	for i := range p.want {
		h := mix(rhythmHash(&p.want[i]), heightHash(&p.want[i], 0))
		list := index[h]
		if len(list) == 0 {
			p.wantLeft = append(p.wantLeft, i)
			continue
		}
		best := max(slices.IndexFunc(list, func(k int) bool { return sameTies(&p.want[i], &p.got[k]) }), 0)
		k := list[best]
		index[h] = slices.Delete(list, best, best+1)
		taken[k] = true
		p.pairs = append(p.pairs, pair{i, k})
	}
	for k := range p.got {
		if !taken[k] {
			p.gotLeft = append(p.gotLeft, k)
		}
	}
}

func sameTies(a, b *note) bool { return a.tieStart == b.tieStart && a.tieStop == b.tieStop }

// joined is a chain of tied notes of one bar, which sound as one.
type joined struct {
	members         []int
	first, last     *note
	height          int
	start, end      musicxml.Fraction
	startsT, leadsT bool // tied from before, tied on
}

// joinTies pairs what sounds the same but is written with other ties: a half note
// against two quarters tied.
func (p *notePairer) joinTies() {
	want, got := join(p.want, p.wantLeft, 0), join(p.got, p.gotLeft, p.moved)
	for i := range want {
		k := slices.IndexFunc(got, func(g joined) bool { return g.members != nil && want[i].sounds(&g) })
		if k < 0 {
			continue
		}
		p.pairJoined(want[i].members, got[k].members)
		got[k].members = nil
	}
}

// pairJoined pairs the first notes of two chains; the others are part of them.
func (p *notePairer) pairJoined(want, got []int) {
	p.pairs = append(p.pairs, pair{want[0], got[0]})
	p.wantLeft = slices.DeleteFunc(p.wantLeft, func(i int) bool { return slices.Contains(want, i) })
	p.gotLeft = slices.DeleteFunc(p.gotLeft, func(k int) bool { return slices.Contains(got, k) })
}

func (j *joined) sounds(o *joined) bool {
	return j.height == o.height && j.start == o.start && j.end == o.end && j.first.unpitched == o.first.unpitched &&
		j.startsT == o.startsT && j.leadsT == o.leadsT && len(j.members) != len(o.members)
}

func join(notes []note, left []int, moved int) []joined {
	var chains []joined
	for _, i := range left {
		n := &notes[i]
		if n.grace > 0 {
			continue
		}
		k := slices.IndexFunc(chains, func(c joined) bool {
			return n.tieStop && c.leadsT && c.end == n.onset && c.last.height == n.height && c.first.unpitched == n.unpitched
		})
		if k < 0 {
			chains = append(chains, joined{first: n, height: n.height + moved, start: n.onset, startsT: n.tieStop})
			k = len(chains) - 1
		}
		c := &chains[k]
		c.members, c.last, c.end, c.leadsT = append(c.members, i), n, n.end(), n.tieStart
	}
	return chains
}

// What pairing two notes that differ costs, and what a note without a counterpart
// does.
const (
	otherHeight = 4
	nearHeight  = 3 // an octave or a step away
	otherLength = 3
	otherOnset  = 2
	noteGap     = 5
	noPair      = 2*noteGap + 1
)

// mostLeft bounds the notes that are aligned within one bar; beyond it they are
// paired in order.
const mostLeft = 1000

// alignRest pairs what is left over with the least cost of changes (Needleman and
// Wunsch 1970).
func (p *notePairer) alignRest() {
	byTime := func(notes []note) func(a, b int) int {
		return func(a, b int) int {
			return cmp.Or(notes[a].onset.Cmp(notes[b].onset), cmp.Compare(fullLast(notes[a].grace), fullLast(notes[b].grace)), cmp.Compare(notes[a].height, notes[b].height))
		}
	}
	slices.SortStableFunc(p.wantLeft, byTime(p.want))
	slices.SortStableFunc(p.gotLeft, byTime(p.got))
	n, m := min(len(p.wantLeft), mostLeft), min(len(p.gotLeft), mostLeft)
	cost := make([][]int, n+1)
	for i := range cost {
		cost[i] = make([]int, m+1)
		for k := range cost[i] {
			if i == 0 || k == 0 {
				cost[i][k] = noteGap * (i + k)
				continue
			}
			cost[i][k] = min(cost[i-1][k-1]+p.unlike(i-1, k-1), cost[i-1][k]+noteGap, cost[i][k-1]+noteGap)
		}
	}
	p.traceBack(cost, n, m)
	for _, i := range p.wantLeft[n:] {
		p.pairs = append(p.pairs, pair{i, -1})
	}
	for _, k := range p.gotLeft[m:] {
		p.pairs = append(p.pairs, pair{-1, k})
	}
}

// fullLast puts full notes behind the grace notes at the same moment.
func fullLast(grace int) int {
	return cmp.Or(grace, 1<<30)
}

func (p *notePairer) traceBack(cost [][]int, i, k int) {
	for i > 0 || k > 0 {
		switch {
		case i > 0 && k > 0 && cost[i][k] == cost[i-1][k-1]+p.unlike(i-1, k-1):
			i, k = i-1, k-1
			p.pairs = append(p.pairs, pair{p.wantLeft[i], p.gotLeft[k]})
		case i > 0 && cost[i][k] == cost[i-1][k]+noteGap:
			i--
			p.pairs = append(p.pairs, pair{p.wantLeft[i], -1})
		default:
			k--
			p.pairs = append(p.pairs, pair{-1, p.gotLeft[k]})
		}
	}
}

// unlike says how much two notes that are left over differ.
func (p *notePairer) unlike(i, k int) int {
	w, g := &p.want[p.wantLeft[i]], &p.got[p.gotLeft[k]]
	if w.unpitched != g.unpitched || (w.grace > 0) != (g.grace > 0) {
		return noPair
	}
	cost := 0
	switch d := pitch.Abs(g.moved(p.moved) - w.height); {
	case d == 0:
	case d == 12000 || d <= 2000:
		cost += nearHeight
	default:
		cost += otherHeight
	}
	if w.length != g.length {
		cost += otherLength
	}
	if w.onset != g.onset {
		cost += otherOnset
	}
	return cost
}
