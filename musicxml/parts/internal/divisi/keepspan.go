package divisi

import (
	"sort"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// heldSpan is a span as the player has it.
type heldSpan struct {
	span
	from, to *item
	// at are the elements that stand for the ends.
	at [2]*etree.Element
}

// keepSpans leaves every span that the player has with both its ends, and takes
// out what is left of the others.
func (p *player) keepSpans() {
	var held []*heldSpan
	known := map[heldEnds]bool{}
	for _, s := range p.findSpans() {
		h := &heldSpan{span: s}
		if p.holds(h) && !known[h.between()] {
			h.write()
			held = append(held, h)
			known[h.between()] = spanKinds[h.kind]
			continue
		}
		p.dropEnd(s.start)
		p.dropEnd(s.stop)
	}
	renumber(held)
}

// holds finds the player's items at both ends.
func (p *player) holds(h *heldSpan) bool {
	h.from, h.to = p.itemAt(h.kind, h.start), p.itemAt(h.kind, h.stop)
	switch {
	case h.kind == "tuplet":
		return p.settleTuplet(h)
	case h.kind != "slur":
		return h.from != nil && h.to != nil
	case h.from == nil && h.to == nil:
		return false
	case h.from == nil:
		h.from = p.joined(h.start.group, h.stop.group, h.to)
	case h.to == nil:
		h.to = p.joined(h.stop.group, h.start.group, h.from)
	}
	return h.from != nil && h.to != nil && h.from != h.to
}

// itemAt finds the player's item at an end: what the player has of the stem, and
// for a mark of one notehead only where the player has that notehead.
func (p *player) itemAt(kind string, end spanEnd) *item {
	it := p.items[end.group]
	if it == nil || it.silenced || it.rest() != end.group.rest {
		return nil
	}
	if !spanKinds[kind] && !it.has(end.note) {
		return nil
	}
	return it
}

// joined finds where a slur that the player has one end of goes on for the
// player: at the note of the player's own voice where the lost end was, if no
// rest lies between.
func (p *player) joined(lost, kept *group, end *item) *item {
	it := p.at(lost.bar, lost.onset)
	if it == nil || it == end || p.restBetween(lost, kept) {
		return nil
	}
	return it
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
	for _, lane := range p.desks[h.start.group.bar.measure.Index].lanes {
		for _, it := range lane {
			if it.within(h.start.group, h.stop.group) {
				if h.from == nil {
					h.from = it
				}
				h.to = it
			}
		}
	}
	return h.from != nil
}

// within reports whether an item comes from a voice's groups from one to another.
func (it *item) within(from, to *group) bool {
	g := it.group
	return g != nil && g.grace == from.grace && it.tuplet() && g.voice == from.voice && g.staff == from.staff &&
		!g.onset.Less(from.onset) && !to.end.Less(g.end)
}

// heldEnds tells spans apart by what they join. Of those that belong to a whole
// stem the player has one between the same notes, even where every note of a
// chord had its own.
type heldEnds struct {
	kind     string
	from, to *item
}

func (h *heldSpan) between() heldEnds { return heldEnds{h.kind, h.from, h.to} }

// write puts the ends where the player has them: at their own noteheads, or
// copied to the first note of the player's stem. A rest that is made gets its end
// when it is written.
func (h *heldSpan) write() {
	for i, end := range []struct {
		spanEnd
		it *item
	}{{h.start, h.from}, {h.stop, h.to}} {
		if end.it.group == end.group && !end.it.silenced && (end.note == nil || end.it.has(end.note)) {
			h.at[i] = end.element
			continue
		}
		h.at[i] = end.element.Copy()
		end.it.addEnd(h.at[i], end.element.Parent().Tag)
		h.detach(end.spanEnd)
	}
}

// detach removes an end from a notehead of the player that has lost it to
// another.
func (h *heldSpan) detach(end spanEnd) {
	parent := end.element.Parent()
	parent.RemoveChild(end.element)
	dropEmpty(parent)
}

// addEnd adds one end of a span to the item.
func (it *item) addEnd(e *etree.Element, parent string) {
	switch {
	case it.silenced:
		it.ends = append(it.ends, e)
	case parent == "notations":
		addNotation(it.first(), e)
	default:
		home := findNotation(it.first(), parent)
		if home == nil {
			home = etree.NewElement(parent)
			addNotation(it.first(), home)
		}
		home.AddChild(e)
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
