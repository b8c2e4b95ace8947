package desks

import (
	"slices"

	"deskpart/musicxml"
)

// LeastSeconds is how long it takes to change instruments: under five seconds is risky
// (pimentel).
const LeastSeconds = 5

// NoTime is the time, in seconds, in which nobody changes instruments (common practice,
// no source).
const NoTime = 2

// Change is where a player goes on with another staff.
type Change struct {
	From, To int               // places of the staves
	Stop     musicxml.Position // where the old one has ended
	Entry    musicxml.Position // where the new one begins
	Seconds  float64           // between them
	Said     bool              // the score says the tempo
}

// Hasty reports whether there is little time to change.
func (c *Change) Hasty() bool { return c.Seconds < LeastSeconds }

// Impossible reports whether there is no time to change, as far as the score tells: where
// it says no tempo only a change without any rest is.
func (c *Change) Impossible() bool { return c.Seconds < NoTime && (c.Said || c.Stop == c.Entry) }

// Turns are the staves that a player has in turn.
type Turns struct {
	First   int // the staff that the player begins with
	Changes []Change
	// Back are the changes where a repeat leads back: the player begins the passage again
	// with another instrument than the one that ends it.
	Back []Change
}

// TakeTurns says when a player has which of some staves that never sound at once.
// silent: none of them sounds at all.
func TakeTurns(staves []Sounds, clock *Clock) Turns {
	type entry struct {
		staff int
		Sound
	}
	var all []entry
	for i, sounds := range staves {
		for _, s := range sounds {
			all = append(all, entry{i, s})
		}
	}
	slices.SortStableFunc(all, func(a, b entry) int {
		if c := (musicxml.Position{Measure: a.Measure, Onset: a.From}).Compare(musicxml.Position{Measure: b.Measure, Onset: b.From}); c != 0 {
			return c
		}
		return a.To.Cmp(b.To)
	})
	var t Turns
	for i, e := range all {
		if i == 0 {
			t.First = e.staff
			continue
		}
		before := all[i-1]
		if before.staff == e.staff {
			continue
		}
		c := Change{From: before.staff, To: e.staff, Stop: clock.Settled(musicxml.Position{Measure: before.Measure, Onset: before.To}),
			Entry: clock.Settled(musicxml.Position{Measure: e.Measure, Onset: e.From})}
		c.Seconds, c.Said = clock.Seconds(c.Stop, c.Entry)
		t.Changes = append(t.Changes, c)
	}
	for _, jump := range clock.jumps {
		last, first := -1, -1
		for i, e := range all {
			from := clock.At(musicxml.Position{Measure: e.Measure, Onset: e.From})
			if from.Less(clock.At(jump.From)) {
				last = i
			}
			if first < 0 && !from.Less(clock.At(jump.To)) {
				first = i
			}
		}
		if last < first || first < 0 || all[last].staff == all[first].staff {
			continue // nothing in the passage, or the same instrument
		}
		c := Change{From: all[last].staff, To: all[first].staff, Stop: clock.Settled(musicxml.Position{Measure: all[last].Measure, Onset: all[last].To}),
			Entry: clock.Settled(musicxml.Position{Measure: all[first].Measure, Onset: all[first].From})}
		before, said := clock.Seconds(c.Stop, jump.From)
		after, saidAfter := clock.Seconds(jump.To, c.Entry)
		c.Seconds, c.Said = before+after, said && saidAfter
		t.Back = append(t.Back, c)
	}
	return t
}

// All are the changes in order, then those where a repeat leads back.
func (t *Turns) All() []Change { return slices.Concat(t.Changes, t.Back) }

// StaffAt is the staff that the player has at a place, the new one from its entry on.
func (t *Turns) StaffAt(at musicxml.Position) int {
	staff := t.First
	for _, c := range t.Changes {
		if c.Entry.Compare(at) <= 0 {
			staff = c.To
		}
	}
	return staff
}
