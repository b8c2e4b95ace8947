package doubling

import (
	"slices"

	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/desks"
	"deskpart/musicxml/parts/internal/joining"
	"deskpart/musicxml/parts/internal/stages"
)

// Propose proposes players for a plan, beside the part files: who has an instrument that
// doubles another of its family (piccolo, English horn, bass clarinet) is the highest
// number of those who never sound at once with it and have time to change; that player is
// called by the label. It is "" for all others.
func Propose(s *stages.Score, files []assign.Assignment) ([]string, error) {
	players := make([]string, len(files))
	turns := NewTurns(s, files)
	for i := range files {
		if !turns.doubles(i) {
			continue
		}
		for _, k := range turns.chairsFor(i) {
			if players[k] != "" {
				continue // one instrument more is enough
			}
			can, err := turns.Can(i, k)
			if err != nil {
				return nil, err
			}
			if can {
				players[i], players[k] = files[k].Label, files[k].Label
				break
			}
		}
	}
	return players, nil
}

// Turns tells whether one player can have several part files. It keeps when each of them
// sounds, and is for one goroutine.
type Turns struct {
	*Listener
	files []assign.Assignment
	heard map[int]desks.Sounds
}

// NewTurns is ready to tell.
func NewTurns(s *stages.Score, files []assign.Assignment) *Turns {
	return &Turns{NewListener(s), files, map[int]desks.Sounds{}}
}

// Can reports whether one player can have these part files: each has music, no two ever
// sound at once, and there is time for every change between them.
func (t *Turns) Can(files ...int) (bool, error) {
	var staves []desks.Sounds
	for _, i := range files {
		if _, ok := t.heard[i]; !ok {
			d, err := t.Listen(t.files[i])
			if err != nil {
				return false, err
			}
			t.heard[i] = joining.Sounds(d.Timeline)
		}
		staves = append(staves, t.heard[i])
	}
	return fits(staves, t.Clock), nil
}

// doubles reports whether a part is for an instrument that a player of another of its
// family takes up: one part without a number.
func (t *Turns) doubles(i int) bool {
	a := &t.files[i]
	return isWind(a) && len(t.numbersOf(a)) == 0
}

func isWind(a *assign.Assignment) bool {
	return a.Instrument != nil && a.Instrument.IsWind() && a.Player == 0 && len(a.With) == 0
}

func (t *Turns) numbersOf(a *assign.Assignment) []int {
	return t.score.Surveyed.Parts[a.Part].Match.Players
}

// chairsFor lists the numbered chairs of the same family but for another kind, the highest
// number first.
func (t *Turns) chairsFor(i int) []int {
	a := &t.files[i]
	var chairs []int
	for k := range t.files {
		b := &t.files[k]
		if k != i && isWind(b) && len(t.numbersOf(b)) == 1 && b.Instrument.Family == a.Instrument.Family && b.Instrument.Kind != a.Instrument.Kind {
			chairs = append(chairs, k)
		}
	}
	slices.SortStableFunc(chairs, func(x, y int) int {
		return t.numbersOf(&t.files[y])[0] - t.numbersOf(&t.files[x])[0]
	})
	return chairs
}

// fits reports whether one player can have staves, with time for every change.
func fits(staves []desks.Sounds, clock *desks.Clock) bool {
	silent := func(s desks.Sounds) bool { return len(s) == 0 }
	if slices.ContainsFunc(staves, silent) || len(desks.Clashes(staves)) > 0 {
		return false
	}
	turns := desks.TakeTurns(staves, clock)
	return !slices.ContainsFunc(turns.All(), func(c desks.Change) bool { return c.Hasty() })
}
