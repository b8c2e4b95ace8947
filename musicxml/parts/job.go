package parts

import (
	"fmt"
	"slices"
	"sync"

	"deskpart/instruments"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/casting"
	"deskpart/musicxml/parts/internal/doubling"
	"deskpart/musicxml/parts/internal/making"
	"deskpart/musicxml/parts/plan"
)

// The ways in which a part's instrument was recognised, in the order in which
// they are asked.
const (
	ByPlan      = assign.ByPlan
	ByForPart   = assign.ByForPart
	ByTranspose = assign.ByTranspose
	ByName      = assign.ByName
	BySound     = assign.BySound
	ByFamily    = assign.ByFamily // the family's usual key, assumed
	ByNone      = assign.ByNone
)

// Assignment is one part file to be made: a part of the score for an instrument.
type Assignment = plan.Assignment

// Job is the work on a score whose part files are known. Nothing in it changes. The
// zero value is a job without any.
type Job struct {
	surveyed *Surveyed
	cast     casting.Cast
	names    func() []string // worked out when they are first asked for
	maker    making.Maker
}

// Assign says which part files there will be. A plan that cannot be played is refused
// with a *PlanError.
func (s *Surveyed) Assign() (*Job, error) {
	o := &s.options
	m := making.Maker{Score: s.score.Stages(), SkipTacet: o.Tacet == TacetSkip}
	m.Writing, m.Language, m.RestBars, m.Undivided = o.writing(nil), o.Language, o.RestBars, o.Undivided
	cast, err := casting.New(&m.Score, s.score.Evidence, s.casting())
	if err != nil {
		return nil, err
	}
	return s.job(*cast, m), nil
}

func (s *Surveyed) job(cast casting.Cast, m making.Maker) *Job {
	names := func() []string { return s.assigner().Names(cast.Files) }
	return &Job{surveyed: s, cast: cast, names: sync.OnceValue(names), maker: m}
}

// Propose proposes players for a plan, beside the part files: who has an instrument that
// doubles another of its family (piccolo, English horn, bass clarinet) is the highest
// number of those who never sound at once with it and have time to change; that player is
// called by the label. It is "" for all others.
func (j *Job) Propose() ([]string, error) {
	return doubling.Propose(&j.maker.Score, j.cast.Files)
}

// Turns returns what tells whether one player can have these part files: each has music,
// no two ever sound at once, and there is time for every change between them. It keeps when
// each of them sounds, and is for one goroutine.
func (j *Job) Turns() (can func(files ...int) (bool, error)) {
	return doubling.NewTurns(&j.maker.Score, j.cast.Files).Can
}

// Surveyed is the score that the job is for.
func (j *Job) Surveyed() *Surveyed { return j.surveyed }

// Assignments lists the part files, in score order.
func (j *Job) Assignments() []Assignment {
	all := make([]Assignment, len(j.cast.Files))
	for i := range all {
		all[i] = j.Assignment(i)
	}
	return all
}

// Assignment is part file i.
func (j *Job) Assignment(i int) Assignment {
	return j.assigner().Told(&j.cast.Files[i])
}

// Choose returns the part file that words name, as naming finds parts. On a staff that
// several players share it is that of the player with that place, counted from 1; 0
// takes the first. The error is a *naming.NotFound with the nearest names or a
// *naming.Ambiguous, or says that there is no such player.
func (j *Job) Choose(words string, player int) (int, error) {
	return j.assigner().Choose(j.cast.Files, words, player)
}

// Names is what a plan may call each part file so that no other is meant: a part by its
// name, a player of a shared staff by the label; by the id where that is not enough.
func (j *Job) Names() []string {
	if j.names == nil {
		return nil
	}
	return slices.Clone(j.names())
}

// Missing lists the rows of the plan and the patterns of Options.Only that name no part
// of the score.
func (j *Job) Missing() []plan.Missing { return slices.Clone(j.cast.Missing) }

// Give returns a job in which assignment i goes to another player, as a row of a plan
// says: with its instrument, octave, clef and label. The row's part is not looked at.
func (j *Job) Give(i int, row PlanRow) (*Job, error) {
	if err := checkNumber("part file", i, len(j.cast.Files)); err != nil {
		return nil, err
	}
	given, err := j.assigner().Give(j.cast.Files[i], row)
	if err != nil {
		return nil, err
	}
	cast := j.cast
	cast.Files = slices.Clone(cast.Files)
	cast.Files[i] = given
	return j.surveyed.job(cast, j.maker), nil
}

func (j *Job) assigner() *assign.Assigner {
	if j.surveyed == nil {
		return new(Surveyed).assigner()
	}
	return j.surveyed.assigner()
}

// checkNumber refuses the number of a part or part file that there is not.
func checkNumber(what string, i, n int) error {
	if i < 0 || i >= n {
		return fmt.Errorf("there is no %s %d; there are %d, counted from 0", what, i, n)
	}
	return nil
}

// CheckPlan says what is wrong with a plan, all of it; the error is a *PlanError.
func CheckPlan(plan []PlanRow, catalogue *instruments.Catalogue) error {
	return assign.CheckPlan(plan, catalogue)
}
