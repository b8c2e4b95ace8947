package parts

import (
	"fmt"
	"slices"
	"sync"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/condense"
	"deskpart/musicxml/parts/internal/doubling"
	"deskpart/musicxml/parts/internal/making"
	"deskpart/musicxml/parts/internal/percussion"
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
type Assignment struct {
	Part         int // index among the score's parts
	Number       int // place of the file, counted from 1 in score order
	ID           string
	Name         string                  // as in the score
	Label        string                  // as the sheet is headed
	StaffLabel   string                  // as it would be headed without With
	Instrument   *instruments.Instrument // nil where it was not recognised
	RecognisedBy string
	Assumed      bool
	Player       int // 1, 2 … of a shared staff; 0 for the whole staff
	PlayerCount  int
	// Written is the instrument that the score has the part for, nil where it was not
	// recognised.
	Written *instruments.Instrument
	// Numbers are those of the players, as the names say them; none where they say none.
	Numbers []int
	Octave  string // of the plan: whole octaves added to the sound, or "auto"
	Clef    string // of the plan
	Copies  int    // of the plan: how many are printed; 0: as usual, one
	Desk    string // who plays it, as the plan says; "" where it says nothing
	// Edition is the reader that the file is for, by name, in a set with an edition for
	// every reader; else "".
	Edition string
	// StandsFor is the label of the file for the instrument of the score, where this one
	// is for an instrument that commonly stands in for it; else "".
	StandsFor string
	// With are the further staves of the score that the same player has; the part is made
	// of all of them.
	With []Assignment
	// Some: not every note of the staves is in the part. It has some passages of the
	// percussion, or is a staff that several players share.
	Some     bool
	Warnings []musicxml.Warning
}

// PlayerID names the player in a plan: the part's id, a colon, and the player's place
// on a shared staff, counted from 1. It is the part's id for a whole part.
func (a *Assignment) PlayerID() string { return assign.PlayerID(a.ID, a.Player) }

// PartIDs are the ids of the score's parts that the player has; none of a tacet sheet's.
func (a *Assignment) PartIDs() []string {
	if a.ID == "" {
		return nil
	}
	ids := []string{a.ID}
	for _, further := range a.With {
		ids = append(ids, further.ID)
	}
	return ids
}

// Job is the work on a score whose part files are known. Nothing in it changes. The
// zero value is a job without any.
type Job struct {
	surveyed    *Surveyed
	assignments []assign.Assignment
	desks       []*doubling.Desk // beside the assignments; nil for a player of one staff
	missing     []plan.Missing
	names       func() []string
	maker       making.Maker
}

// Assign says which part files there will be. A plan that cannot be played is refused
// with a *PlanError.
func (s *Surveyed) Assign() (*Job, error) {
	o := s.options
	rows, groups := condense.Groups(s.assigner(), o.Plan)
	assigner := s.assignerOf(rows)
	files, missing, wrong := assigner.All()
	j := &Job{surveyed: s, missing: missing, maker: s.maker()}
	if o.Cues > 0 {
		j.maker.Cues.Labels = assigner.Heard()
	}
	for _, words := range o.Share {
		groups = append(groups, condense.Group{Words: words})
	}
	sharing := condense.Sharing{Score: &j.maker.Score, Assigner: s.assigner(), Files: files}
	sharing.Share(groups, wrong)
	var err error
	if j.assignments, err = percussion.ShareOut(&j.maker.Score, sharing.Files, o.Percussionists); err != nil {
		return nil, err
	}
	if len(o.Only) == 0 {
		assign.Number(j.assignments)
	}
	if j.desks, err = doubling.Lay(&j.maker.Score, j.assignments); err != nil {
		return nil, err
	}
	if j.refuse(wrong); len(wrong.Rows) > 0 {
		return nil, wrong
	}
	return j.named(), nil
}

// named can say what a plan may call its part files; that is worked out when it is first
// asked for.
func (j *Job) named() *Job {
	files, assigner := j.assignments, j.surveyed.assigner()
	j.names = sync.OnceValue(func() []string { return assigner.Names(files) })
	return j
}

// refuse adds what nobody can play, and rows that fit no part, where that is asked for.
func (j *Job) refuse(wrong *PlanError) {
	for _, m := range j.missing {
		if m.Row != nil && j.surveyed.options.WholePlan {
			wrong.Add(m.Row.Line, m.Row.Part, "no part of the score is called so; "+m.Hint())
		}
	}
	for i, d := range j.desks {
		if d != nil && !j.surveyed.options.Force {
			d.Refuse(&j.assignments[i], wrong)
		}
	}
}

// Propose proposes players for a plan, beside the part files: who has an instrument that
// doubles another of its family (piccolo, English horn, bass clarinet) is the highest
// number of those who never sound at once with it and have time to change; that player is
// called by the label. It is "" for all others.
func (j *Job) Propose() ([]string, error) {
	return doubling.Propose(&j.maker.Score, j.assignments)
}

// Turns tells whether one player can have several part files of a job. It keeps when each
// of them sounds, and is for one goroutine.
type Turns struct{ turns *doubling.Turns }

// Turns is ready to tell.
func (j *Job) Turns() *Turns { return &Turns{doubling.NewTurns(&j.maker.Score, j.assignments)} }

// Can reports whether one player can have these part files: each has music, no two ever
// sound at once, and there is time for every change between them.
func (t *Turns) Can(files ...int) (bool, error) { return t.turns.Can(files...) }

// Surveyed is the score that the job is for.
func (j *Job) Surveyed() *Surveyed { return j.surveyed }

// Assignments lists the part files, in score order.
func (j *Job) Assignments() []Assignment {
	all := make([]Assignment, len(j.assignments))
	for i := range all {
		all[i] = j.Assignment(i)
	}
	return all
}

// Assignment is part file i.
func (j *Job) Assignment(i int) Assignment {
	return j.assignmentOf(&j.assignments[i])
}

func (j *Job) assignmentOf(a *assign.Assignment) Assignment {
	of := Assignment{Part: a.Part, Number: a.Number, ID: a.ID, Name: a.Name, Label: a.Label, StaffLabel: a.StaffLabel, Instrument: a.Instrument,
		Written: a.Written, Numbers: slices.Clone(j.surveyed.assigner().Numbers(a)), RecognisedBy: a.RecognisedBy, Assumed: a.Assumed, Player: a.Player, PlayerCount: a.PlayerCount,
		Octave: a.Octave, Clef: a.Clef, Copies: a.Copies, Desk: a.Desk, Edition: a.Edition, StandsFor: a.StandsFor, Warnings: slices.Clone(a.Warnings)}
	of.Some = len(a.Takes) > 0 || a.OneStaff != ""
	for i := range a.With {
		of.With = append(of.With, j.assignmentOf(&a.With[i]))
	}
	return of
}

// Choose returns the part file that words name, as naming finds parts. On a staff that
// several players share it is that of the player with that place, counted from 1; 0
// takes the first. The error is a *naming.NotFound with the nearest names or a
// *naming.Ambiguous, or says that there is no such player.
func (j *Job) Choose(words string, player int) (int, error) {
	return j.surveyed.assigner().Choose(j.assignments, words, player)
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
func (j *Job) Missing() []plan.Missing { return slices.Clone(j.missing) }

// Give returns a job in which assignment i goes to another player, as a row of a plan
// says: with its instrument, octave, clef and label. The row's part is not looked at.
func (j *Job) Give(i int, row PlanRow) (*Job, error) {
	if err := checkNumber("part file", i, len(j.assignments)); err != nil {
		return nil, err
	}
	given, err := j.surveyed.assigner().Give(j.assignments[i], row)
	if err != nil {
		return nil, err
	}
	other := *j
	other.assignments = slices.Clone(j.assignments)
	other.assignments[i] = given
	return other.named(), nil
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
