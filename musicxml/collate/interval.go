package collate

import (
	"cmp"

	"deskpart/transpose/pitch"
)

// steadyShare is the share of the notes, in hundredths, that must lie one and the
// same interval away for the part as a whole to lie there.
const steadyShare = 60

// constantInterval finds the one interval between the notes of a part and those
// of the score: what is to be added to the part's sound. It looks at bars of the
// same shape only, the first of a shape in the part against the first in the
// score and so on, so that it needs no alignment. known is false where no interval
// prevails.
func constantInterval(want, got *transcript) (by pitch.Interval, known bool) {
	counts := map[pitch.Interval]int{}
	all := 0
	ranks := map[uint64][]*bar{}
	for i := range want.bars {
		if b := &want.bars[i]; lowest(b) != nil {
			shape := shapeOf(b)
			ranks[shape] = append(ranks[shape], b)
		}
	}
	for i := range got.bars {
		b := &got.bars[i]
		low := lowest(b)
		if low == nil {
			continue
		}
		shape := shapeOf(b)
		list := ranks[shape]
		if len(list) == 0 {
			continue
		}
		ranks[shape] = list[1:]
		counts[between(low.sounding, lowest(list[0]).sounding)] += len(b.notes)
		all += len(b.notes)
	}
	return prevailing(counts, all)
}

// prevailing settles the semitones first, for a respelled bar is of other steps,
// then the steps.
func prevailing(counts map[pitch.Interval]int, all int) (pitch.Interval, bool) {
	bySound := map[int]int{}
	for i, n := range counts {
		bySound[i.Chromatic] += n
	}
	best := pitch.Interval{}
	for i, n := range counts {
		most := cmp.Or(cmp.Compare(bySound[i.Chromatic], bySound[best.Chromatic]), cmp.Compare(n, counts[best]),
			cmp.Compare(pitch.Abs(best.Chromatic), pitch.Abs(i.Chromatic)), cmp.Compare(best.Diatonic, i.Diatonic), cmp.Compare(best.Chromatic, i.Chromatic))
		if most > 0 {
			best = i
		}
	}
	return best, all > 0 && bySound[best.Chromatic]*100 >= all*steadyShare
}

// between is the interval from one pitch to another, of a microtone without the
// fraction.
func between(a, b pitch.Pitch) pitch.Interval {
	by, _ := pitch.Between(a, b)
	return by
}
