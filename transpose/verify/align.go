package verify

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// pair is an element of the source and the one that answers it; either is nil
// where it has no counterpart.
type pair struct{ want, got *etree.Element }

// align pairs two lists of elements with the least cost of changes, so that one
// element lost or gained is one difference and not one for each that follows
// (Needleman and Wunsch 1970). Equal lists, the usual case, cost one look at each.
func align(want, got []*etree.Element) []pair {
	head := 0
	for head < len(want) && head < len(got) && alike(want[head], got[head]) == 0 {
		head++
	}
	tail := 0
	for tail < len(want)-head && tail < len(got)-head && alike(want[len(want)-1-tail], got[len(got)-1-tail]) == 0 {
		tail++
	}
	pairs := make([]pair, 0, max(len(want), len(got)))
	for i := range head {
		pairs = append(pairs, pair{want[i], got[i]})
	}
	pairs = append(pairs, alignMiddle(want[head:len(want)-tail], got[head:len(got)-tail])...)
	for i := tail; i > 0; i-- {
		pairs = append(pairs, pair{want[len(want)-i], got[len(got)-i]})
	}
	return pairs
}

// gap is what an element without a counterpart costs.
const gap = 3

func alignMiddle(want, got []*etree.Element) []pair {
	cost := make([][]int, len(want)+1)
	for i := range cost {
		cost[i] = make([]int, len(got)+1)
		for k := range cost[i] {
			switch {
			case i == 0 || k == 0:
				cost[i][k] = gap * (i + k)
			default:
				cost[i][k] = min(cost[i-1][k-1]+alike(want[i-1], got[k-1]), cost[i-1][k]+gap, cost[i][k-1]+gap)
			}
		}
	}
	var reversed []pair
	for i, k := len(want), len(got); i > 0 || k > 0; {
		switch {
		case i > 0 && k > 0 && cost[i][k] == cost[i-1][k-1]+alike(want[i-1], got[k-1]):
			i, k = i-1, k-1
			reversed = append(reversed, pair{want[i], got[k]})
		case i > 0 && cost[i][k] == cost[i-1][k]+gap:
			i--
			reversed = append(reversed, pair{want: want[i]})
		default:
			k--
			reversed = append(reversed, pair{got: got[k]})
		}
	}
	slices.Reverse(reversed)
	return reversed
}

// alike says how much two elements differ in what tells them apart: 0 not at all,
// more than two gaps that they are no counterparts.
func alike(a, b *etree.Element) int {
	if a.Tag != b.Tag {
		return 2*gap + 1
	}
	if a.Tag == "note" {
		return alikeNotes(a, b)
	}
	if len(a.ChildElements()) == 0 && musicxml.Text(a) != musicxml.Text(b) {
		return 1
	}
	return 0
}

// alikeNotes counts what two notes have in common.
func alikeNotes(a, b *etree.Element) int {
	cost := 0
	for _, tag := range []string{"chord", "rest", "grace", "pitch"} {
		x, y := musicxml.Child(a, tag), musicxml.Child(b, tag)
		switch {
		case (x == nil) != (y == nil):
			cost += 2
		case x != nil && tag == "pitch" && !samePitchText(x, y):
			cost++
		}
	}
	for _, tag := range []string{"duration", "voice"} {
		if musicxml.ChildText(a, tag) != musicxml.ChildText(b, tag) {
			cost++
		}
	}
	return min(cost, 2*gap+1)
}

func samePitchText(a, b *etree.Element) bool {
	return !slices.ContainsFunc([]string{"step", "alter", "octave"}, func(tag string) bool { return musicxml.ChildText(a, tag) != musicxml.ChildText(b, tag) })
}
