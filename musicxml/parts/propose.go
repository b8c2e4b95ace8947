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
	turns := j.Turns()
	for i := range j.assignments {
		if !j.doubles(i) {
			continue
		}
		for _, k := range j.chairsFor(i) {
			if players[k] != "" {
				continue // one instrument more is enough
			}
			can, err := turns.Can(i, k)
			if err != nil {
				return nil, err
			}
			if can {
				players[i], players[k] = j.assignments[k].Label, j.assignments[k].Label
				break
			}
		}
	}
	return players, nil
}

// Turns tells whether one player can have several part files of a job. It keeps when each
// of them sounds, and is for one goroutine.
type Turns struct {
	job   *Job
	heard map[int]desks.Sounds
	clock *desks.Clock
}

// Turns is ready to tell.
func (j *Job) Turns() *Turns { return &Turns{job: j, heard: map[int]desks.Sounds{}} }

// Can reports whether one player can have these part files: each has music, no two ever
// sound at once, and there is time for every change between them.
func (t *Turns) Can(files ...int) (bool, error) {
	var staves []desks.Sounds
	for _, i := range files {
		if err := t.listen(i); err != nil {
			return false, err
		}
		staves = append(staves, t.heard[i])
	}
	return fits(staves, t.clock), nil
}

func (t *Turns) listen(i int) error {
	if _, ok := t.heard[i]; ok {
		return nil
	}
	d, err := t.job.hear(new(Workspace), t.job.assignments[i])
	if err != nil {
		return err
	}
	if t.clock == nil {
		t.clock = desks.NewClock(t.job.stages.Lengths, joining.Tempos(d.Timeline))
		t.clock.Plays(joining.Way(d.Timeline))
	}
	t.heard[i] = joining.Sounds(d.Timeline)
	return nil
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

// fits reports whether one player can have staves, with time for every change.
func fits(staves []desks.Sounds, clock *desks.Clock) bool {
	silent := func(s desks.Sounds) bool { return len(s) == 0 }
	if slices.ContainsFunc(staves, silent) || len(desks.Clashes(staves)) > 0 {
		return false
	}
	turns := desks.TakeTurns(staves, clock)
	return !slices.ContainsFunc(turns.All(), func(c desks.Change) bool { return c.Hasty() })
}
