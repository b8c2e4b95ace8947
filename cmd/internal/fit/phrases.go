package fit

import (
	"slices"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/octaves"
)

// instant is the notes of a line that begin together.
type instant struct {
	at    musicxml.Fraction
	bar   int
	notes []int // in the line
}

// phrases cuts a line of the music where its octave may change.
func (m *Music) phrases(line Line) []octaves.Phrase {
	bound := m.marks.reaches()
	var all []octaves.Phrase
	var reach musicxml.Fraction // where the notes so far have ended
	var last *instant
	instants := line.instants()
	for i := range instants {
		now := &instants[i]
		before, ok := octaves.AtBar, true
		if last != nil {
			before, ok = m.breakBefore(now, last, reach)
			ok = ok && !now.at.Less(reach) && !bound.holds(now.at)
		}
		if ok {
			all = append(all, octaves.Phrase{Before: before})
		}
		phrase := &all[len(all)-1]
		for _, k := range now.notes {
			phrase.Sounds = append(phrase.Sounds, line[k].midi())
			if end := line[k].end(); reach.Less(end) {
				reach = end
			}
		}
		last = now
	}
	return all
}

// instants gathers a line's notes by the moments at which they begin, in order.
func (l Line) instants() []instant {
	order := make([]int, len(l))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return l[a].Start.Cmp(l[b].Start) })
	var all []instant
	for _, k := range order {
		if n := len(all); n > 0 && all[n-1].at == l[k].Start {
			all[n-1].notes = append(all[n-1].notes, k)
			continue
		}
		all = append(all, instant{l[k].Start, l[k].Index, []int{k}})
	}
	return all
}

// breakBefore tells how well an octave changes before an instant, and whether it may
// at all.
func (m *Music) breakBefore(now, last *instant, reach musicxml.Fraction) (octaves.Break, bool) {
	switch {
	case reach.Less(now.at) && now.bar > 0 && !m.busy[now.bar-1]:
		return octaves.AtRest, true
	case reach.Less(now.at):
		return octaves.AtGap, true
	case m.marks.breathes(last.at, now.at):
		return octaves.AtBreath, true
	}
	return octaves.AtBar, now.bar != last.bar || m.marks.slurs[now.at]
}

// reaches are bindings in the order of their beginnings, each reaching as far as any
// before it.
type reaches []binding

func (m *marks) reaches() *reaches {
	all := reaches(slices.Clone(m.bindings))
	slices.SortFunc(all, func(a, b binding) int { return a.from.Cmp(b.from) })
	for i := 1; i < len(all); i++ {
		if all[i].until.Less(all[i-1].until) {
			all[i].until = all[i-1].until
		}
	}
	return &all
}

// holds reports whether a binding that began before a moment ends there or later.
// Moments are asked for in order.
func (r *reaches) holds(at musicxml.Fraction) bool {
	for len(*r) > 1 && (*r)[1].from.Less(at) {
		*r = (*r)[1:]
	}
	return len(*r) > 0 && (*r)[0].from.Less(at) && !(*r)[0].until.Less(at)
}
