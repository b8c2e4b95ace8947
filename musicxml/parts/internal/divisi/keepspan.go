package divisi

import (
	"cmp"
	"sort"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

// heldSpan is a span as the player has it.
type heldSpan struct {
	span
	from, to *item
	// at are the elements that stand for the ends.
	at [2]*etree.Element
}

// keepSpans leaves every span that the player has with both its ends, and takes
// out what is left of the others. Spans whose both ends the player has are dealt
// with first: where two slurs begin on a unison, one for each of two voices, the
// player has the one that leads to the player's own.
func (p *player) keepSpans() {
	spans, lone := p.findSpans()
	k := &spanKeeper{player: p, known: map[heldEnds]bool{}, begun: map[heldEnds]bool{}}
	p.noteLone(lone)
	var half []*heldSpan
	for _, s := range spans {
		h := &heldSpan{span: s, from: p.itemAt(s.kind, s.start), to: p.itemAt(s.kind, s.stop)}
		if (h.from == nil) != (h.to == nil) && h.kind == "slur" {
			half = append(half, h)
		} else {
			k.keep(h, p.holds(h))
		}
	}
	for _, h := range half {
		k.keep(h, !k.begun[h.between()] && p.joins(h))
	}
	renumber(k.held)
}

// noteLone remembers the ends without another end.
func (p *player) noteLone(lone []spanEnd) {
	p.lone = map[*etree.Element]bool{}
	for _, end := range lone {
		p.lone[end.element] = true
		if end.element.Tag == "slur" {
			p.loneSlurs = append(p.loneSlurs, end)
		}
	}
	sort.SliceStable(p.loneSlurs, func(i, j int) bool {
		return p.loneSlurs[i].group.start().Less(p.loneSlurs[j].group.start())
	})
}

// spanKeeper gathers the spans that the player keeps.
type spanKeeper struct {
	*player
	held  []*heldSpan
	known map[heldEnds]bool // what is joined by spans of the whole stem
	begun map[heldEnds]bool // where they begin, and where they end
}

// keep keeps a span or takes its ends out.
func (k *spanKeeper) keep(h *heldSpan, wanted bool) {
	if !wanted || !h.own() && k.known[h.between()] {
		k.dropEnd(h.start)
		k.dropEnd(h.stop)
		return
	}
	k.placeEnds(h)
	k.held = append(k.held, h)
	if spanKinds[h.kind] {
		k.known[h.between()] = true
		k.begun[heldEnds{h.kind, h.from, nil}] = true
		k.begun[heldEnds{h.kind, nil, h.to}] = true
	}
}

// holds reports whether the player has both ends of a span.
func (p *player) holds(h *heldSpan) bool {
	if h.kind == "tuplet" {
		return p.settleTuplet(h)
	}
	return h.from != nil && h.to != nil
}

// joins finds the other end of a slur of which the player has one.
func (p *player) joins(h *heldSpan) bool {
	if h.from == nil {
		// A slur that began at another stem is not the player's, unless one of the
		// player's own has no end but this.
		h.from = p.loneStart(h.to)
	} else {
		h.to = p.goesOn(h)
	}
	return h.from != nil && h.to != nil && h.from != h.to
}

// itemAt finds the player's item at an end: what the player has of the stem. A mark
// at a notehead of others is not the player's if it belongs to one notehead, or if
// the player's own notehead has one too.
func (p *player) itemAt(kind string, end spanEnd) *item {
	it := p.items[end.group]
	if it == nil || it.rest() != end.group.rest { // silenced, or a rest under a note
		return nil
	}
	if end.note != nil && !it.has(end.note) && (!spanKinds[kind] || it.hasEnd(end)) {
		return nil
	}
	return it
}

// hasEnd reports whether the player's own noteheads have an end of that kind.
func (it *item) hasEnd(like spanEnd) bool {
	for _, n := range it.notes {
		for _, end := range endsAt(spanEnd{}, n.element) {
			if end.element.Tag == like.element.Tag && musicxml.Attr(end.element, "type") == musicxml.Attr(like.element, "type") {
				return true
			}
		}
	}
	return false
}

// loneStart finds the last slur of the player before an item that has no end.
func (p *player) loneStart(to *item) *item {
	for i := len(p.loneSlurs) - 1; i >= 0; i-- {
		end := p.loneSlurs[i]
		it := p.items[end.group]
		if p.lone[end.element] && !end.stopsSlur() && it.plays(end) &&
			end.group.start().Less(to.group.start()) && !p.restBetween(end.group, to.group) {
			return it
		}
	}
	return nil
}

// goesOn finds where a slur that begins for the player ends: at the next end of
// the player's own that has no beginning, else at the player's note where the lost
// end was, if no rest lies between.
func (p *player) goesOn(h *heldSpan) *item {
	lost, start := h.stop.group, h.start.group
	for _, end := range p.loneSlurs {
		it := p.items[end.group]
		if p.lone[end.element] && end.stopsSlur() && it.plays(end) &&
			start.start().Less(end.group.start()) && !p.restBetween(start, end.group) {
			return it
		}
	}
	it := p.at(lost.bar, lost.onset)
	if it == nil || p.restBetween(start, lost) {
		return nil
	}
	return it
}

// plays reports whether the player has the notehead of an end.
func (it *item) plays(end spanEnd) bool {
	return it != nil && end.note != nil && it.has(end.note)
}

// restBetween reports whether the player rests between two groups.
func (p *player) restBetween(a, b *group) bool {
	from, to := a.start(), b.stop()
	if b.start().Less(a.start()) {
		from, to = b.start(), a.stop()
	}
	first, last := min(a.bar.measure.Index, b.bar.measure.Index), max(a.bar.measure.Index, b.bar.measure.Index)
	for i := first; i <= last; i++ {
		start := p.bars[i].measure.Start
		for _, it := range p.desks[i].lanes[0] {
			if it.rest() && start.Add(it.onset).Less(to) && from.Less(start.Add(it.end)) {
				return true
			}
		}
	}
	return false
}

// settleTuplet closes a tuplet around what the player has of it, notes or rests.
func (p *player) settleTuplet(h *heldSpan) bool {
	h.from, h.to = nil, nil
	if h.start.group.bar != h.stop.group.bar {
		return false
	}
	for it := range p.desks[h.start.group.bar.measure.Index].items() {
		if it.within(h.start.group, h.stop.group) {
			h.from, h.to = cmp.Or(h.from, it), it
		}
	}
	return h.from != nil
}

// within reports whether an item comes from a voice's groups from one to another.
func (it *item) within(from, to *group) bool {
	g := it.group
	return g != nil && g.grace == from.grace && it.tuplet() && g.voice == from.voice && (g.staff == from.staff || g.staff == to.staff) &&
		!g.onset.Less(from.onset) && !to.end.Less(g.end)
}

// heldEnds tells spans apart by what they join. Of those that belong to a whole
// stem the player has one between the same notes, even where every note of a
// chord had its own.
type heldEnds struct {
	kind     string
	from, to *item
}

// own reports whether both ends are at noteheads of the player.
func (h *heldSpan) own() bool { return h.from.plays(h.start) && h.to.plays(h.stop) }

// between is what the player has of a span's ends.
func (h *heldSpan) between() heldEnds { return heldEnds{h.kind, h.from, h.to} }

// placeEnds puts the ends where the player has them: at their own noteheads, or at the
// first note of the player's stem, where an end that has no other end in the score
// serves, else a copy. A rest that is made gets its end when it is written.
func (p *player) placeEnds(h *heldSpan) {
	for i, end := range []struct {
		spanEnd
		it *item
	}{{h.start, h.from}, {h.stop, h.to}} {
		if end.it.group == end.group && !end.it.silenced && (end.note == nil || end.it.has(end.note)) {
			h.at[i] = end.element
			continue
		}
		if h.at[i] = p.loneEnd(end.it, end.element); h.at[i] == nil {
			h.at[i] = end.element.Copy()
			end.it.addEnd(h.at[i], end.element.Parent().Tag)
		}
	}
}

// loneEnd finds at an item an end of a span of the same kind that waits for its
// other end: two voices may have begun slurs that end as one on a unison.
func (p *player) loneEnd(it *item, like *etree.Element) *etree.Element {
	if it.rest() {
		return nil
	}
	for _, n := range it.notes {
		for _, end := range endsAt(spanEnd{}, n.element) {
			e := end.element
			if p.lone[e] && e.Tag == like.Tag && musicxml.Attr(e, "type") == musicxml.Attr(like, "type") {
				delete(p.lone, e)
				return e
			}
		}
	}
	return nil
}

// addEnd adds one end of a span to the item.
func (it *item) addEnd(e *etree.Element, parent string) {
	switch {
	case it.silenced:
		it.ends = append(it.ends, e)
	case parent == "notations":
		music.AddNotation(it.first(), e)
	default:
		notationGroup(it.first(), parent).AddChild(e)
	}
}

// first is the element that carries what belongs to the whole stem.
func (it *item) first() *etree.Element {
	if it.rest() {
		return it.group.element
	}
	return it.notes[0].element
}

// dropEnd takes an end of a lost span out.
func (p *player) dropEnd(end spanEnd) {
	if parent := end.element.Parent(); parent != nil {
		parent.RemoveChild(end.element)
		dropEmpty(parent)
	}
}

// renumber gives spans of one kind that overlap numbers that differ.
func renumber(held []*heldSpan) {
	sort.SliceStable(held, func(i, j int) bool { return held[i].begins().Less(held[j].begins()) })
	var open []*heldSpan
	for _, h := range held {
		still := open[:0]
		taken := map[string]bool{}
		for _, other := range open {
			if h.begins().Less(other.ends()) {
				still = append(still, other)
				if other.kind == h.kind {
					taken[numberOf(other.at[0])] = true
				}
			}
		}
		h.number(taken)
		open = append(still, h)
	}
}

// number keeps the span's number, or takes the lowest that is free.
func (h *heldSpan) number(taken map[string]bool) {
	n := numberOf(h.at[0])
	if !taken[n] && n == numberOf(h.at[1]) {
		return
	}
	for i := 1; taken[n] || i == 1; i++ {
		n = strconv.Itoa(i)
	}
	for _, e := range h.at {
		e.CreateAttr("number", n)
	}
}

func (h *heldSpan) begins() musicxml.Fraction {
	return h.start.group.bar.measure.Start.Add(h.from.onset)
}

func (h *heldSpan) ends() musicxml.Fraction { return h.stop.group.bar.measure.Start.Add(h.to.onset) }
