package desks

import (
	"cmp"
	"slices"

	"deskpart/musicxml"
)

// Sound is a stretch of one bar in which something is to be played. A grace note, which
// takes no time, is one with From and To alike.
type Sound struct {
	Measure  int
	From, To musicxml.Fraction // in the bar, in quarter notes
}

func (s Sound) begins() musicxml.Position {
	return musicxml.Position{Measure: s.Measure, Onset: s.From}
}

// isOver reports whether nothing is left of a sound at a place inside its bar.
func (s Sound) isOver(at musicxml.Position) bool {
	return s.Measure < at.Measure || s.Measure == at.Measure && at.Onset.Sign() > 0 && !at.Onset.Less(s.To)
}

// Within is what sounds in a stretch, whole.
func (all Sounds) Within(stretch Stretch) Sounds {
	first := slices.IndexFunc(all, func(s Sound) bool { return !s.isOver(stretch.From) })
	if first < 0 {
		return nil
	}
	n, _ := slices.BinarySearchFunc(all[first:], stretch.To, func(s Sound, at musicxml.Position) int { return s.begins().Compare(at) })
	return all[first : first+n]
}

// Sounds are what one staff has to play, in order of time, without overlaps.
type Sounds []Sound

// Merged puts stretches in order and joins those that touch.
func Merged(all []Sound) Sounds {
	slices.SortStableFunc(all, func(a, b Sound) int {
		return cmp.Or(cmp.Compare(a.Measure, b.Measure), a.From.Cmp(b.From), a.To.Cmp(b.To))
	})
	var merged Sounds
	for _, s := range all {
		last := len(merged) - 1
		if last >= 0 && merged[last].Measure == s.Measure && !merged[last].To.Less(s.From) {
			merged[last].To = merged[last].To.Max(s.To)
			continue
		}
		merged = append(merged, s)
	}
	return merged
}

// Clash is a place at which two staves sound at once.
type Clash struct {
	A, B int // places of the staves, A before B
	Sound
}

// Clashes finds all places at which two of some staves sound at once, in order of time.
func Clashes(staves []Sounds) []Clash {
	var all []Clash
	for a := range staves {
		for b := a + 1; b < len(staves); b++ {
			for _, s := range overlaps(staves[a], staves[b]) {
				all = append(all, Clash{a, b, s})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b Clash) int { return cmp.Or(cmp.Compare(a.Measure, b.Measure), a.From.Cmp(b.From)) })
	return all
}

// overlaps are the stretches in which both staves sound.
func overlaps(a, b Sounds) []Sound {
	var all []Sound
	for i, k := 0, 0; i < len(a) && k < len(b); {
		if s, ok := overlap(a[i], b[k]); ok {
			all = append(all, s)
		}
		if endsFirst(a[i], b[k]) {
			i++
		} else {
			k++
		}
	}
	return all
}

func endsFirst(a, b Sound) bool {
	return a.Measure < b.Measure || a.Measure == b.Measure && a.To.Less(b.To)
}

// overlap is what two stretches have in common. A grace note is in the way of another
// only inside it: it may begin where the other ends, or end where the other begins.
func overlap(a, b Sound) (Sound, bool) {
	if a.Measure != b.Measure {
		return Sound{}, false
	}
	common := a
	common.From = common.From.Max(b.From)
	common.To = common.To.Min(b.To)
	if common.From.Less(common.To) {
		return common, true
	}
	grace := common.From == common.To && (a.From == a.To || b.From == b.To)
	inside := (a.From.Less(common.From) || a.From == a.To) && (common.From.Less(a.To) || a.From == a.To) &&
		(b.From.Less(common.From) || b.From == b.To) && (common.From.Less(b.To) || b.From == b.To)
	return common, grace && inside
}
