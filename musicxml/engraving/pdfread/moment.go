package pdfread

import (
	"cmp"
	"math"
	"slices"
)

// A player works out when to play from left to right: what stands above one another
// begins together, and the next column begins where something that sounds has ended.
// Where several ways of reading are to be had (is a small note a grace note? which of
// two voices has ended?) the one is taken in which every voice fills the bar.

// way is one way of reading a bar as far as it goes.
type way struct {
	cost   float64
	now    int64
	column float64 // x of the column in hand
	open   []voiceEnd
	here   []*event // in the column in hand
	last   *event   // of those that take time
	grace  *event   // the last grace note
	onsets []int64  // of the events so far, −1 for a grace note
}

// voiceEnd is where an event ends.
type voiceEnd struct {
	at    int64
	staff int
}

// What is unlikely in a reading.
const (
	costDropped = 0.7 // a voice that ends before the bar does
	costEnters  = 0.9 // one that begins out of nothing
	costAside   = 0.15
	costTooLong = 3
	costGrace   = 0.08 // of a small note that could be a cue
	costShort   = 0.5
	costOther   = 0.4 // values that are not the usual ones
	mostWays    = 160
)

// readMoments finds the onset of every event of a bar.
func (b *bar) readMoments() {
	for _, e := range b.events {
		e.readValue()
	}
	playing := slices.DeleteFunc(slices.Clone(b.events), b.isWholeBarRest)
	tuplets := b.readTuplets()
	best := way{cost: math.Inf(1)}
	var ticks []int64
	for i, choice := range choices(tuplets, playing) {
		choice()
		w := b.read(playing)
		if i > 0 {
			w.cost += costOther
		}
		if w.cost < best.cost-1e-9 {
			best, ticks = w, ticks[:0]
			for _, e := range playing {
				ticks = append(ticks, e.ticks)
			}
		}
		if best.cost == 0 {
			break
		}
	}
	if len(playing) > 0 {
		b.apply(playing, best, ticks)
	}
}

// choices are the readings of the values that are tried: each figure in its usual
// meaning, in the next, and groups of three under one beam as triplets without figure.
func choices(tuplets []*tuplet, playing []*event) (list []func()) {
	scale := func(meaning int, unmarked bool) func() {
		return func() {
			for _, e := range playing {
				e.ticks = e.plain
			}
			for _, t := range tuplets {
				normal := t.normal[min(meaning, len(t.normal)-1)]
				for _, e := range t.members {
					e.ticks = e.ticks * normal / t.count
				}
			}
			if unmarked {
				scaleUnmarked(playing)
			}
		}
	}
	most := 1
	for _, t := range tuplets {
		most = max(most, len(t.normal))
	}
	list = append(list, scale(0, false), scale(0, true))
	for m := 1; m < most; m++ {
		list = append(list, scale(m, false))
	}
	return list
}

// scaleUnmarked reads groups of three, six, nine or twelve under a beam as triplets.
func scaleUnmarked(playing []*event) {
	byBeam := map[*shape][]*event{}
	for _, e := range playing {
		if len(e.beams) > 0 && e.ticks == e.plain {
			byBeam[e.beams[0]] = append(byBeam[e.beams[0]], e)
		}
	}
	for _, group := range byBeam {
		if len(group)%3 == 0 {
			for _, e := range group {
				e.ticks = e.plain * 2 / 3
			}
		}
	}
}

// isWholeBarRest reports whether a rest stands in the middle of the bar, alone on
// its staff or for one of its voices.
func (b *bar) isWholeBarRest(e *event) bool {
	if e.rest == nil || e.rest.text != "𝄻" && e.rest.text != "𝄺" {
		return false
	}
	alone := !slices.ContainsFunc(b.events, func(o *event) bool {
		return o != e && o.staff == e.staff && (o.rest == nil || o.rest.text != "𝄻")
	})
	return alone || e.x > b.firstColumn(e)+0.5
}

// firstColumn is the x of the first other event of a bar.
func (b *bar) firstColumn(not *event) float64 {
	for _, e := range b.events {
		if e != not && !e.small && (e.rest == nil || e.rest.text != "𝄻") {
			return e.x
		}
	}
	return math.Inf(1)
}

// read finds the likeliest onsets of events that stand in the order of their x.
func (b *bar) read(playing []*event) way {
	byCost := func(a, b way) int { return cmp.Compare(a.cost, b.cost) }
	ways := []way{{column: math.Inf(-1)}}
	for _, e := range playing {
		var next []way
		for i := range ways {
			next = append(next, b.extend(&ways[i], e)...)
		}
		slices.SortStableFunc(next, byCost)
		ways = next[:min(len(next), mostWays)]
	}
	for i := range ways {
		ways[i].cost += b.endCost(&ways[i])
	}
	if len(ways) == 0 {
		return way{cost: math.Inf(1)}
	}
	return slices.MinFunc(ways, byCost)
}

// extend are the ways to read one more event.
func (b *bar) extend(w *way, e *event) (list []way) {
	if e.small && e.rest == nil && e.plain <= quarter && !b.sharesColumn(e) {
		grace := *w
		grace.onsets, grace.grace = append(slices.Clone(w.onsets), -1), e
		if !e.slashed {
			grace.cost += costGrace
		}
		if !e.follows(w.last) {
			list = append(list, grace)
		}
		if e.slashed || e.follows(w.grace) {
			return list // grace notes under one beam are all grace notes
		}
	}
	if apart := e.x - w.column; apart < w.reach(e) && !e.follows(w.last) {
		cost := 0.0
		if apart > 0.35 {
			cost = costAside
		}
		list = append(list, w.add(e, w.now, e.x, cost))
	}
	if math.IsInf(w.column, -1) {
		return append(list, w.add(e, 0, e.x, 0))
	}
	if e.x < w.column+0.35 {
		return list
	}
	var times []int64
	for _, v := range w.open {
		if v.at > w.now && !slices.Contains(times, v.at) {
			times = append(times, v.at)
		}
	}
	slices.Sort(times)
	for _, t := range times[:min(3, len(times))] {
		list = append(list, w.move(t).add(e, t, e.x, 0))
	}
	// After a rest that is not printed: so that the note ends with another.
	if len(times) > 0 && times[0]-e.ticks > w.now {
		t := times[0] - e.ticks
		list = append(list, w.move(t).add(e, t, e.x, 0))
	}
	return list
}

// reach is how far from its column a note may stand aside: beside the head of another
// voice, and its dots.
func (w *way) reach(e *event) float64 {
	reach := 1.5
	for _, o := range w.here {
		if o.staff == e.staff {
			reach = max(reach, o.x+o.wide()+0.3+float64(o.dots)-w.column)
		}
	}
	return reach
}

// follows reports whether a note stands under one beam with the one before, and so
// cannot begin with it.
func (e *event) follows(before *event) bool {
	return before != nil && slices.ContainsFunc(e.beams, func(p *shape) bool { return slices.Contains(before.beams, p) })
}

// sharesColumn reports whether a note of full size stands above or below a small one.
func (b *bar) sharesColumn(e *event) bool {
	return slices.ContainsFunc(b.events, func(o *event) bool {
		return !o.small && o.staff == e.staff && math.Abs(o.x-e.x) < 0.35
	})
}

// move goes on to a later moment: what ended before it and had no successor has
// dropped out.
func (w *way) move(to int64) *way {
	moved := *w
	moved.open = nil
	for _, v := range w.open {
		if v.at < to {
			moved.cost += costDropped
			continue
		}
		moved.open = append(moved.open, v)
	}
	moved.now, moved.column, moved.here = to, math.Inf(-1), nil
	return &moved
}

// add sets an event at a moment, in the place of one that ends there.
func (w *way) add(e *event, at int64, x, cost float64) way {
	next := *w
	next.open = slices.Clone(w.open)
	next.onsets = append(slices.Clone(w.onsets), at)
	next.now, next.cost = at, w.cost+cost
	if math.IsInf(w.column, -1) {
		next.column = x
	}
	if at > 0 {
		next.cost += next.succeed(e.staff.index, at)
	}
	next.open = append(next.open, voiceEnd{at + e.ticks, e.staff.index})
	next.last, next.here = e, append(slices.Clone(w.here), e)
	return next
}

// succeed takes out what an event follows, on its own staff if it can be.
func (w *way) succeed(staff int, at int64) float64 {
	i := slices.Index(w.open, voiceEnd{at, staff})
	cost := 0.0
	if i < 0 {
		i, cost = slices.IndexFunc(w.open, func(v voiceEnd) bool { return v.at == at }), costEnters/2
	}
	if i < 0 {
		return costEnters
	}
	w.open = slices.Delete(w.open, i, i+1)
	return cost
}

// endCost says how badly a bar is filled.
func (b *bar) endCost(w *way) (cost float64) {
	var end int64
	for _, v := range w.open {
		end = max(end, v.at)
	}
	for _, v := range w.open {
		if v.at < end {
			cost += costDropped
		}
	}
	if b.length > 0 && end > b.length {
		cost += costTooLong
	}
	if b.length > 0 && end < b.length {
		cost += costShort
	}
	return cost
}

// apply gives events their onsets; a grace note has that of the note after it.
func (b *bar) apply(playing []*event, w way, ticks []int64) {
	b.unsure = w.cost > 0.6
	if len(w.onsets) == 0 {
		return // no way to read it was found
	}
	end := int64(0)
	for i, e := range playing {
		if i < len(ticks) {
			e.ticks = ticks[i]
		}
		if e.onset = w.onsets[i]; e.onset >= 0 {
			end = max(end, e.onset+e.ticks)
			b.columns = append(b.columns, column{e.x, e.onset})
		}
	}
	for i := len(playing) - 1; i >= 0; i-- {
		e := playing[i]
		if e.onset >= 0 {
			continue
		}
		e.grace, e.onset, e.ticks = true, end, 0
		for _, later := range playing[i+1:] {
			if !later.grace && later.staff == e.staff && later.onset >= 0 && later.x > e.x+0.3 {
				e.onset = later.onset
				break
			}
		}
	}
	b.closeColumns(end)
}

// closeColumns keeps one place for each moment, the first, and the bar's end.
func (b *bar) closeColumns(end int64) {
	slices.SortStableFunc(b.columns, func(x, y column) int {
		return cmp.Or(cmp.Compare(x.onset, y.onset), cmp.Compare(x.x, y.x))
	})
	b.columns = slices.CompactFunc(b.columns, func(x, y column) bool { return x.onset == y.onset })
	if b.length > 0 {
		end = max(end, b.length)
	}
	b.columns = append(b.columns, column{b.to, end})
}
