package collate

import (
	"cmp"
	"slices"
)

// likely is how well a part fits a staff.
type likely struct {
	part, staff int
	content     float64 // 0 to 1
	name        float64 // 0 to 1
	hint        bool    // a manifest says so
}

func (l likely) total() float64 {
	sum := 2*l.content + l.name
	if l.hint {
		sum++
	}
	return sum
}

// enough is how much better another staff must be before a part takes one that a
// file has already: as a second copy, or because the staff is shared.
const enough = 0.5

// match finds the staff of each part: by what sounds in it, by its name, and by
// its manifest. nil is no staff at all.
func match(given []*Part, staves []*staff) []*staff {
	all, best := likelihoods(given, staves)
	found := make([]*staff, len(given))
	taken := make([]bool, len(staves))
	for _, l := range all {
		if found[l.part] == nil && !taken[l.staff] && l.total() >= best[l.part]-enough {
			found[l.part], taken[l.staff] = staves[l.staff], true
		}
	}
	for _, l := range all {
		if found[l.part] == nil {
			found[l.part] = staves[l.staff]
		}
	}
	return found
}

// likelihoods lists how well each part fits each staff, the best first, and how
// well each part fits its best.
func likelihoods(given []*Part, staves []*staff) (all []likely, best []float64) {
	best = make([]float64, len(given))
	for i, l := range given {
		if l.transcript == nil {
			continue
		}
		for k, t := range staves {
			fit := likely{part: i, staff: k, content: contentOf(l, t), name: nameLikeness(l, t), hint: l.Source != "" && l.Source == t.id}
			all = append(all, fit)
			best[i] = max(best[i], fit.total())
		}
	}
	slices.SortStableFunc(all, func(a, b likely) int {
		return cmp.Or(cmp.Compare(b.total(), a.total()), cmp.Compare(a.staff, b.staff), cmp.Compare(a.part, b.part))
	})
	return all, best
}

// contentOf is how much of a part and a staff is alike.
func contentOf(l *Part, t *staff) float64 {
	if l.transcript.notes == 0 && t.transcript.notes == 0 {
		return 1
	}
	return likeness(l.shapes, t.shapes, l.transcript.notes, t.transcript.notes)
}

// nameLikeness is how well names fit, from 0 to 1: the names as they stand, or
// the instruments and players' numbers that they mean.
func nameLikeness(l *Part, t *staff) float64 {
	if name := plainWords(l.Name); name != "" && (name == plainWords(t.name) || name == plainWords(t.label)) {
		return 1
	}
	a, b := l.match, t.match
	if a.Instrument == nil || b.Instrument == nil {
		return 0
	}
	return instrumentLikeness(a.Instrument.ID == b.Instrument.ID, a.Instrument.Kind == b.Instrument.Kind, a.Instrument.Family == b.Instrument.Family) *
		numberLikeness(a.Players, b.Players)
}

func instrumentLikeness(same, kind, family bool) float64 {
	switch {
	case same:
		return 0.95
	case kind:
		return 0.9
	case family:
		return 0.4
	}
	return 0
}

func numberLikeness(part, staff []int) float64 {
	switch {
	case slices.Equal(part, staff):
		return 1
	case len(part) == 0 || len(staff) == 0:
		return 0.7
	case isWithin(part, staff):
		return 0.8
	}
	return 0.3
}

// isWithin reports whether every number of a is one of b.
func isWithin(a, b []int) bool {
	return !slices.ContainsFunc(a, func(n int) bool { return !slices.Contains(b, n) })
}
