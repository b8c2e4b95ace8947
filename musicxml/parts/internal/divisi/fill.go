package divisi

import (
	"slices"

	"deskpart/musicxml"
)

// fill writes rests where the player's first lane is silent.
func (k *desk) fill() {
	lane := k.lanes[0]
	length := k.bar.measure.Length
	if !sounds(lane) {
		k.lanes[0] = k.silent(lane, length)
		return
	}
	t := metreOf(k.bar.measure)
	var filled []*item
	var at musicxml.Fraction
	for i := 0; i <= len(lane); i++ {
		next := length
		if i < len(lane) {
			next = lane[i].onset
		}
		if at.Less(next) {
			var from, to musicxml.Fraction
			filled, from = takeBack(filled, at)
			lane, to = takeAhead(lane, i, length)
			filled = append(filled, k.rests(t, from, to)...)
			at = to
		}
		if i < len(lane) {
			filled = append(filled, lane[i])
			at = at.Max(lane[i].end)
		}
	}
	k.lanes[0] = filled
}

func sounds(lane []*item) bool {
	return slices.ContainsFunc(lane, func(it *item) bool { return !it.rest() })
}

// silent is a bar without notes: the score's own rests where they fill it, else
// one rest of the whole bar.
func (k *desk) silent(lane []*item, length musicxml.Fraction) []*item {
	var at musicxml.Fraction
	for _, it := range lane {
		if it.onset == at {
			at = it.end
		}
	}
	if at == length {
		return lane
	}
	return []*item{{end: length, whole: true}}
}

// takeBack removes the score's plain rests at the end of a lane, so that they are
// written together with the gap that follows, and returns where the gap begins.
func takeBack(lane []*item, at musicxml.Fraction) ([]*item, musicxml.Fraction) {
	for len(lane) > 0 {
		last := lane[len(lane)-1]
		if !last.mergeable() || last.end != at {
			break
		}
		at = last.onset
		lane = lane[:len(lane)-1]
	}
	return lane, at
}

// takeAhead removes the score's plain rests from i on, and returns where the
// silence then ends: at the next note, or at the end of the bar.
func takeAhead(lane []*item, i int, length musicxml.Fraction) ([]*item, musicxml.Fraction) {
	to := i
	for to < len(lane) && lane[to].mergeable() {
		to++
	}
	end := length
	if to < len(lane) {
		end = lane[to].onset
	}
	return append(lane[:i:i], lane[to:]...), end
}

// mergeable reports whether a rest may be written another way: one that carries
// nothing of its own.
func (it *item) mergeable() bool {
	return it.rest() && (it.group == nil || !it.tuplet() && musicxml.Child(it.group.element, "notations") == nil)
}

// rests fills a gap. Where it begins or ends inside a tuplet, that part of it
// keeps the tuplet's rhythm.
func (k *desk) rests(t metre, from, to musicxml.Fraction) []*item {
	var head, tail []*item
	for !plain(from) {
		g := k.tupletGroup(func(g *group) bool { return g.onset == from && !to.Less(g.end) })
		if g == nil {
			break
		}
		head = append(head, &item{group: g, silenced: true, onset: g.onset, end: g.end})
		from = g.end
	}
	for !plain(to) && from.Less(to) {
		g := k.tupletGroup(func(g *group) bool { return g.end == to && !g.onset.Less(from) })
		if g == nil {
			break
		}
		tail = append([]*item{{group: g, silenced: true, onset: g.onset, end: g.end}}, tail...)
		to = g.onset
	}
	if from.Less(to) {
		for _, r := range t.fillGap(from, to) {
			head = append(head, &item{onset: r.From, end: r.To, value: r.NoteValue})
		}
	}
	return append(head, tail...)
}

// tupletGroup finds a group of a tuplet in the bar.
func (k *desk) tupletGroup(fits func(*group) bool) *group {
	for _, g := range k.bar.groups {
		if g.onset.Less(g.end) && musicxml.Child(g.element, "time-modification") != nil && fits(g) {
			return g
		}
	}
	return nil
}
