package desks

import (
	"cmp"
	"math"
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
func (c *Change) Impossible() bool { return c.Seconds < NoTime && (c.Said || c.Seconds == 0) }

// Turns are the staves that a player has in turn.
type Turns struct {
	First   int // the staff that the player begins with
	Changes []Change
	// Back are the changes where the music leads elsewhere, as at a repeat: the player goes
	// on there with another instrument than the one that ends the passage.
	Back []Change
}

// TakeTurns says when a player has which of some staves that never sound at once.
func TakeTurns(staves []Sounds, clock *Clock) Turns {
	var all []entry
	for i, sounds := range staves {
		for _, s := range sounds {
			all = append(all, entry{i, s})
		}
	}
	slices.SortStableFunc(all, func(a, b entry) int {
		return cmp.Or(a.begins().Compare(b.begins()), a.To.Cmp(b.To))
	})
	var t Turns
	for i, e := range all {
		switch {
		case i == 0:
			t.First = e.staff
		case all[i-1].staff != e.staff:
			t.Changes = append(t.Changes, change(all[i-1], e, clock))
		}
	}
	t.playWay(all, clock)
	return t
}

// change goes from one sound to the next in the score.
func change(before, next entry, clock *Clock) Change {
	c := Change{From: before.staff, To: next.staff, Stop: clock.Settled(musicxml.Position{Measure: before.Measure, Onset: before.To}),
		Entry: clock.Settled(next.begins())}
	c.Seconds, c.Said = clock.Seconds(c.Stop, c.Entry)
	return c
}

// entry is a sound of one of several staves.
type entry struct {
	staff int
	Sound
}

// playWay follows the order in which the bars are played. It notes the changes that are
// where the music leads elsewhere, each with the least time that there is for it; a change
// that stands in the score but is never played, as from a first ending to a second, takes
// no time.
func (t *Turns) playWay(all []entry, clock *Clock) {
	if len(clock.way) < 2 {
		return
	}
	played := map[[2]musicxml.Position]bool{}
	back := map[[2]musicxml.Position]int{}
	before, beforeIn := -1, 0
	for n, stretch := range clock.way {
		first, _ := slices.BinarySearchFunc(all, stretch.From.Measure, func(e entry, bar int) int { return e.Measure - bar })
		for i := first; i < len(all) && all[i].begins().Compare(stretch.To) < 0; i++ {
			if all[i].isOver(stretch.From) {
				continue
			}
			if before >= 0 && all[before].staff != all[i].staff {
				c := change(all[before], all[i], clock)
				ends := [2]musicxml.Position{c.Stop, c.Entry}
				if before+1 == i {
					played[ends] = true
				}
				if beforeIn != n {
					c.Seconds, c.Said = clock.Over(c.Stop, beforeIn, c.Entry, n)
				}
				switch k, known := back[ends]; {
				case beforeIn == n:
				case !known:
					back[ends] = len(t.Back)
					t.Back = append(t.Back, c)
				case c.Seconds < t.Back[k].Seconds:
					t.Back[k] = c
				}
			}
			before, beforeIn = i, n
		}
	}
	for i := range t.Changes {
		if c := &t.Changes[i]; !played[[2]musicxml.Position{c.Stop, c.Entry}] {
			c.Seconds = math.Inf(1)
		}
	}
}

// All are the changes in order, then those where the music leads elsewhere.
func (t *Turns) All() []Change { return slices.Concat(t.Changes, t.Back) }
