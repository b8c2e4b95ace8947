package marking

import (
	"slices"

	"deskpart/transpose/pitch"
)

// diagnosis is the explanation that an answer differs from least.
type diagnosis struct {
	cause
	handling handling
	// predicted is what the answer would be, signed says which notes have a sign of
	// their own or one earlier in the bar.
	predicted []pitch.Pitch
	signed    []bool
	// before is what went before a cause that set in late.
	before *diagnosis
	score  int // hundredths of a note
}

// at is the explanation of a head: what went before, or the cause.
func (d *diagnosis) at(i int) *diagnosis {
	if i < d.from {
		return d.before
	}
	return d
}

// goes is the signature that goes with the notes at a head.
func (d *diagnosis) goes(i int) int { return d.at(i).fifths[i] }

// perNote is what one differing note costs an explanation.
const perNote = 100

// lateWeight is how unlikely it is that a cause sets in after the beginning, and
// lateLeast how many notes it must then hold for.
const (
	lateWeight = 110
	lateLeast  = 3
)

// diagnose finds the best explanation.
func (x *examiner) diagnose() diagnosis {
	best := diagnosis{score: -1}
	take := func(d diagnosis) {
		if best.score < 0 || d.score < best.score {
			best = d
		}
	}
	var plain []diagnosis // nothing but the page is wrong
	for _, c := range x.causes() {
		for _, h := range handlings {
			d, ok := x.think(c, h)
			if !ok {
				continue
			}
			if !c.late {
				take(d)
			}
			switch {
			case c.kind == "":
				plain = append(plain, d)
			case c.throughout:
			case h == asMeant, h == reread && c.seen: // exactly, or a line off under the signature that is there
				for _, before := range plain {
					x.late(d, before, take)
				}
			}
		}
	}
	return best
}

// think predicts the answer that a cause and a handling give; ok is false where
// the two do not go together.
func (x *examiner) think(c cause, h handling) (diagnosis, bool) {
	signed := x.signedHeads(c)
	d := diagnosis{cause: c, handling: h, signed: x.governed(c, signed)}
	switch {
	case h == asMeant:
		if !c.exact {
			return d, false
		}
		d.predicted = c.target
	case c.seen && c.exact: // the pages of an interval by letters are a cause of their own
		return d, false
	case h == literal && x.given == nil, h == reread && !c.exact && c.kind != WrongClef && !c.seen:
		return d, false
	case h == spelledOut && (c.exact || slices.Equal(x.is, x.wantedFifths)):
		return d, false
	default:
		d.predicted = readPage(x.marks(c, h, signed))
	}
	d.score = perNote*x.differing(d.predicted) + c.weight + handlingWeights[h]
	if h != asMeant {
		d.score += x.signatureWeight(c)
	}
	return d, true
}

// secondMistake is how unlikely a wrong page is beside notes moved wrongly.
const secondMistake = 50

// strangeSignature is how unlikely a signature is that no known mistake gives, and
// rareSignature one that is known beside notes in the right place.
const strangeSignature, rareSignature = 160, 60

// signatureWeight is how unlikely the answer's first signature is, for whoever moved
// the notes as the cause says: missing, unmoved, moved the other way and that of
// the other mode are known mistakes.
func (x *examiner) signatureWeight(c cause) int {
	is, wanted := x.is[0], x.wantedFifths[0]
	known, rare := []int{c.fifths[0], wanted, 0}, []int{wanted + 3, wanted - 3}
	if x.given != nil {
		given := x.given.heads[0].fifths
		known, rare = append(known, given), append(rare, 2*given-wanted)
	}
	second := secondMistake
	if c.kind == "" || c.kind == WrongClef {
		second = 0
		known = append(known, rare...)
	}
	switch {
	case slices.Contains(known, is):
		return second
	case slices.Contains(rare, is):
		return second + rareSignature
	}
	return second + strangeSignature
}

// signedHeads says where the page that a cause gives has a sign: where the right
// answer has one, or where the question had one if the notes were moved otherwise.
func (x *examiner) signedHeads(c cause) []bool {
	heads := x.expected.heads
	if x.given != nil && (c.kind == WrongInterval || c.kind == WrongDirection) {
		heads = x.given.heads
	}
	signed := make([]bool, len(heads))
	for i, h := range heads {
		signed[i] = h.sign != ""
	}
	return signed
}

// governed adds to the heads with a sign those for which it holds on.
func (x *examiner) governed(c cause, signed []bool) []bool {
	type line struct{ bar, place int }
	list := make([]bool, len(signed))
	held := map[line]bool{}
	for i, t := range c.target {
		at := line{x.expected.heads[i].bar, t.Place()}
		held[at] = held[at] || signed[i]
		list[i] = held[at]
	}
	return list
}

// marks is the page that a cause and a handling give.
func (x *examiner) marks(c cause, h handling, signed []bool) []mark {
	list := make([]mark, len(c.target))
	for i, t := range c.target {
		e := x.expected.heads[i]
		m := mark{bar: e.bar, place: t.Place(), signed: signed[i] && h != dropped, tieFrom: e.tieFrom, fifths: x.is[i]}
		if h == spelledOut {
			m.fifths = x.wantedFifths[i]
		}
		if m.signed {
			m.alter = x.signAlter(c, h, i, m.place)
		}
		list[i] = m
	}
	return list
}

// signAlter is what the sign at a head makes of its note.
func (x *examiner) signAlter(c cause, h handling, i, place int) pitch.Alter {
	switch {
	case h == literal:
		return x.given.heads[i].pitch.Alter
	case h == bySign:
		return signatureAlter(x.is[i], pitch.At(place)) + x.raised(i)
	case c.exact:
		return c.target[i].Alter
	}
	return x.wanted[i].Alter
}

// raised is how far the right note lies above that of the right signature.
func (x *examiner) raised(i int) pitch.Alter {
	return x.wanted[i].Alter - signatureAlter(x.wantedFifths[i], x.wanted[i])
}

// differing counts the answer's notes that a prediction does not have.
func (x *examiner) differing(predicted []pitch.Pitch) int {
	n := 0
	for i, known := range x.known {
		if known && x.got[i] != predicted[i] {
			n++
		}
	}
	return n
}

// late lets a cause set in after the beginning, where that explains more; before says
// what is right until then.
func (x *examiner) late(d, before diagnosis, take func(diagnosis)) {
	differ, holds := 0, 0 // what the cause does not explain, and what it alone does
	count := func(i, n int) {
		switch {
		case x.got[i] != d.predicted[i]:
			differ += n
		case d.predicted[i] != x.wanted[i]:
			holds += n
		}
	}
	for i, known := range x.known {
		if known {
			count(i, 1)
		}
	}
	best, at := -1, 0
	for from := 1; from+lateLeast <= len(d.predicted); from++ {
		if i := from - 1; x.known[i] {
			count(i, -1)
			if x.got[i] != before.predicted[i] {
				differ++
			}
		}
		if holds >= lateLeast && (best < 0 || differ <= best) {
			best, at = differ, from
		}
	}
	if best < 0 {
		return
	}
	d.from, d.before = at, &before
	d.predicted = append(append([]pitch.Pitch{}, before.predicted[:at]...), d.predicted[at:]...)
	d.score = perNote*best + d.weight + lateWeight + before.score - perNote*x.differing(before.predicted)
	take(d)
}
