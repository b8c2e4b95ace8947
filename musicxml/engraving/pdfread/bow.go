package pdfread

import (
	"cmp"
	"math"
	"slices"
)

// bow is a slur or a tie.
type bow struct {
	from, to point
	up       bool
}

// bows are the filled curves of a line; dashed ones are curves one after another.
func (s *system) bows() (list []bow) {
	for i := range s.shapes {
		if p := &s.shapes[i]; p.curved {
			list = append(list, bow{p.points[0], p.points[1], p.bend < 0})
		}
	}
	return append(list, s.brokenBows()...)
}

// brokenBows joins the dashes of a broken bow: curves of one thickness, each a little
// right of the one before.
func (s *system) brokenBows() (list []bow) {
	var open *bow
	var last point
	var step, turn float64
	flush := func() {
		if open != nil && open.to.x-open.from.x > 0.8 {
			open.to.x += step * 0.4
			open.up = turn < (open.from.y+open.to.y)/2
			list = append(list, *open)
		}
		open = nil
	}
	for i := range s.strokes {
		k := &s.strokes[i]
		if !k.curved || k.closed || len(k.points) != 2 || math.Abs(k.width-0.16) > 0.001 || k.last().x <= k.first().x {
			flush()
			continue
		}
		gap := k.first().x - last.x
		if open == nil || gap < 0 || gap > 1.5 || math.Abs(k.first().y-last.y) > 1.2 {
			flush()
			open, turn = &bow{from: k.first()}, k.first().y
		}
		step = (k.last().x - k.first().x) / 0.6
		open.to, last = k.last(), k.last()
		if math.Abs(k.first().y-open.from.y) > math.Abs(turn-open.from.y) {
			turn = k.first().y
		}
	}
	flush()
	return list
}

// tieTip is how far the tips of a tie lie from the middle of its head.
const tieTip = 0.5

// height is that of the head that a tie's tip belongs to.
func (b *bow) height(tip point) float64 {
	if b.up {
		return tip.y + tieTip
	}
	return tip.y - tieTip
}

func (s *system) nearestHead(height, limit float64, distance func(*head) float64) (best *head) {
	for _, b := range s.bars {
		for _, e := range b.events {
			for _, h := range e.heads {
				d := distance(h)
				if d < -0.12 || d > limit || math.Abs(h.at.y-height) > 0.12 {
					continue
				}
				if best == nil || d < distance(best) {
					best = h
				}
			}
		}
	}
	return best
}

// isTie reports whether a bow is a tie: its tips lie beside heads, not over them.
func (s *system) isTie(b *bow) (from, to *head, is bool) {
	from = s.nearestHead(b.height(b.from), 3, func(h *head) float64 { return b.from.x - h.right() })
	// Before the right one the accidentals of its chord may stand.
	to = s.nearestHead(b.height(b.to), 5, func(h *head) float64 { return h.at.x - b.to.x })
	if from != nil && to != nil {
		return from, to, to.at.x > from.at.x && !(s.overHead(b.from) && s.overHead(b.to))
	}
	if s.overHead(b.from) || s.overHead(b.to) || from == nil && to == nil {
		return nil, nil, false
	}
	short := b.to.x-b.from.x < 3.2
	return from, to, short || from != nil && b.to.x > s.bars[len(s.bars)-1].to-1 // let ring, or to the next line
}

// overHead reports whether a tip stands over or under the middle of a head.
func (s *system) overHead(tip point) bool {
	return slices.ContainsFunc(s.bars, func(b *bar) bool {
		return slices.ContainsFunc(b.events, func(e *event) bool { return e.rest == nil && math.Abs(e.center()-tip.x) < 0.2 })
	})
}

// readTies lists the heads that a tie leads to, with those that it comes from.
func (s *system) readTies() map[*head]*head {
	ties := map[*head]*head{}
	for _, b := range s.bows() {
		if from, to, is := s.isTie(&b); is && to != nil {
			ties[to] = from
		}
	}
	return ties
}

// readSlurs reads the bows that are no ties, and joins what goes on over line ends.
func (p *Part) readSlurs() {
	var going []Mark // open from the line before
	for number, s := range p.systems {
		var begun []Mark
		var arrived []bow
		bows := s.bows()
		slices.SortStableFunc(bows, func(a, b bow) int { return cmp.Compare(a.from.y, b.from.y) })
		for _, b := range bows {
			if _, _, tie := s.isTie(&b); tie {
				continue
			}
			from, to := s.noteAt(b.from), s.noteAt(b.to)
			switch {
			case from != nil && to != nil:
				p.Slurs = append(p.Slurs, Span{"slur", from.mark(number, b.from.x), to.mark(number, b.to.x)})
			case from != nil:
				begun = append(begun, from.mark(number, b.from.x))
			default:
				arrived = append(arrived, b)
			}
		}
		for _, b := range arrived {
			to := s.noteAt(b.to)
			if len(going) == 0 {
				p.Slurs = append(p.Slurs, Span{Kind: "slur from nowhere"})
				continue
			}
			if to != nil {
				p.Slurs = append(p.Slurs, Span{"slur", going[0], to.mark(number, b.to.x)})
			} else {
				begun = append(begun, going[0])
			}
			going = going[1:]
		}
		for _, m := range going {
			p.Slurs = append(p.Slurs, Span{Kind: "slur to nowhere", From: m})
		}
		going = begun
	}
	for _, m := range going {
		p.Slurs = append(p.Slurs, Span{Kind: "slur to nowhere", From: m})
	}
}

// noteAt is the event whose head a slur's tip belongs to, nil at the edge of a line.
func (s *system) noteAt(tip point) (best *event) {
	nearest := math.Inf(1)
	if tip.x > s.bars[len(s.bars)-1].to-0.3 {
		return nil
	}
	for _, b := range s.bars {
		for _, e := range b.events {
			if b.isWholeBarRest(e) {
				continue
			}
			dx := math.Abs(e.center() - tip.x)
			if e.stem != nil {
				dx = min(dx, math.Abs(e.stem.first().x-tip.x)+0.1)
			}
			if dx > 1.3 {
				continue
			}
			if d := dx + 0.02*math.Abs(e.at().y-tip.y); d < nearest {
				best, nearest = e, d
			}
		}
	}
	return best
}

func (e *event) mark(system int, x float64) Mark {
	return Mark{Place: Place{e.bar.number, fraction(e.onset)}, System: system, X: x}
}
