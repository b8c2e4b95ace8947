package casting

import (
	"fmt"

	"deskpart/instruments"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/condense"
	"deskpart/musicxml/parts/internal/doubling"
	"deskpart/musicxml/parts/internal/percussion"
	"deskpart/musicxml/parts/internal/stages"
	"deskpart/musicxml/parts/plan"
)

// Options say which part files there are to be.
type Options struct {
	assign.Options
	Share          [][]string // groups of parts that are put on one staff each
	Percussionists int        // to whom the percussion is given; 0: each staff is a part
	WholePlan      bool       // a row that names no part is wrong
	Force          bool       // what one player can hardly do is not refused
}

// MostPercussionists bounds how many players share the percussion.
const MostPercussionists = 20

// Check refuses what makes no sense whatever the score; a whole plan is checked with it.
func (o *Options) Check(catalogue *instruments.Catalogue) error {
	if o.Percussionists < 0 || o.Percussionists > MostPercussionists {
		return fmt.Errorf("%d percussionists are asked for; it is a number from 0 to %d", o.Percussionists, MostPercussionists)
	}
	if err := assign.CheckPlan(o.Plan, catalogue); err != nil && !o.WholePlan {
		return fmt.Errorf("plan, %w", err)
	}
	return nil
}

// Cast are the part files and who plays them.
type Cast struct {
	Files   []assign.Assignment
	Desks   []*doubling.Desk // beside the files; nil for a player of one staff
	Missing []plan.Missing
}

// New assigns the parts of a score, whose cue notes are then named for who plays them.
// What the plan or a player cannot do is refused with a *plan.Error.
func New(s *stages.Score, evidence []assign.Evidence, o Options) (*Cast, error) {
	usual := assign.New(s.Surveyed, evidence, o.Options)
	rows, groups := condense.Groups(usual, o.Plan)
	own := o.Options
	own.Plan = rows
	assigner := assign.New(s.Surveyed, evidence, own)
	files, missing, wrong := assigner.All()
	if s.Cues.After > 0 {
		s.Cues.Labels = assigner.Heard()
	}
	for _, words := range o.Share {
		groups = append(groups, condense.Group{Words: words})
	}
	sharing := condense.Sharing{Score: s, Assigner: usual, Files: files}
	sharing.Share(groups, wrong)
	c := &Cast{Missing: missing}
	var err error
	if c.Files, err = percussion.ShareOut(s, sharing.Files, o.Percussionists); err != nil {
		return nil, err
	}
	if len(o.Only) == 0 {
		assign.Number(c.Files)
	}
	if c.Desks, err = doubling.Lay(s, c.Files); err != nil {
		return nil, err
	}
	if c.refuse(o, wrong); len(wrong.Rows) > 0 {
		return nil, wrong
	}
	return c, nil
}

// refuse adds what nobody can play, and rows that fit no part, where that is asked for.
func (c *Cast) refuse(o Options, wrong *plan.Error) {
	for _, m := range c.Missing {
		if m.Row != nil && o.WholePlan {
			wrong.Add(m.Row.Line, m.Row.Part, "no part of the score is called so; "+m.Hint())
		}
	}
	for i, d := range c.Desks {
		if d != nil && !o.Force {
			d.Refuse(&c.Files[i], wrong)
		}
	}
}
