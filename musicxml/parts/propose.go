package parts

import (
	"slices"

	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/desks"
	"deskpart/musicxml/parts/internal/joining"
)

// Propose proposes players for a plan, beside the part files: who has an instrument that
// doubles another of its family (piccolo, English horn, bass clarinet) is the highest
// number of those who never sound at once with it and have time to change; that player is
// called by the label. It is "" for all others.
func (j *Job) Propose() ([]string, error) {
	players := make([]string, len(j.assignments))
	heard := map[int]desks.Sounds{}
	var clock *desks.Clock
	listen := func(i int) error {
		if _, ok := heard[i]; ok {
			return nil
		}
		d, err := j.hear(new(Workspace), j.assignments[i])
		if err != nil {
			return err
		}
		if clock == nil {
			clock = desks.NewClock(j.stages.Lengths, joining.Tempos(d.Timeline))
		}
		heard[i] = joining.Sounds(d.Timeline)
		return nil
	}
	for i := range j.assignments {
		if !j.doubles(i) {
			continue
		}
		for _, k := range j.chairsFor(i) {
			if players[k] != "" {
				continue // one instrument more is enough
			}
			if err := listen(i); err != nil {
				return nil, err
			}
			if err := listen(k); err != nil {
				return nil, err
			}
			if fits([]desks.Sounds{heard[i], heard[k]}, clock) {
				players[i], players[k] = j.assignments[k].Label, j.assignments[k].Label
				break
			}
		}
	}
	return players, nil
}

// doubles reports whether a part is for an instrument that a player of another of its
// family takes up: one part without a number.
func (j *Job) doubles(i int) bool {
	a := &j.assignments[i]
	return isWind(a) && len(j.numbersOf(a)) == 0
}

func isWind(a *assign.Assignment) bool {
	return a.Instrument != nil && a.Instrument.IsWind() && a.Player == 0 && len(a.With) == 0
}

func (j *Job) numbersOf(a *assign.Assignment) []int {
	return j.surveyed.score.Parts[a.Part].Match.Players
}

// chairsFor lists the numbered chairs of the same family but for another kind, the highest
// number first.
func (j *Job) chairsFor(i int) []int {
	a := &j.assignments[i]
	var chairs []int
	for k := range j.assignments {
		b := &j.assignments[k]
		if k != i && isWind(b) && len(j.numbersOf(b)) == 1 && b.Instrument.Family == a.Instrument.Family && b.Instrument.Kind != a.Instrument.Kind {
			chairs = append(chairs, k)
		}
	}
	slices.SortStableFunc(chairs, func(x, y int) int {
		return j.numbersOf(&j.assignments[y])[0] - j.numbersOf(&j.assignments[x])[0]
	})
	return chairs
}

// fits reports whether one player can have two staves, with time for every change.
func fits(staves []desks.Sounds, clock *desks.Clock) bool {
	if len(staves[0]) == 0 || len(staves[1]) == 0 || len(desks.Clashes(staves)) > 0 {
		return false
	}
	turns := desks.TakeTurns(staves, clock)
	return !slices.ContainsFunc(turns.Changes, func(c desks.Change) bool { return c.Hasty() })
}
