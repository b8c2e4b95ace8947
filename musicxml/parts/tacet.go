package parts

import (
	"deskpart/instruments"
	"deskpart/musicxml/parts/internal/assign"
)

// MakeTacet makes the sheet of a player of a work who has nothing in this movement: the
// bars, keys and marks of the score, and the word. The instrument is what the player
// would read it for, nil where that is not known. The error is that of Make.
func (j *Job) MakeTacet(w *Workspace, label string, in *instruments.Instrument) (*Part, error) {
	if len(j.surveyed.score.Parts) == 0 {
		return nil, checkNumber("part", 0, 0)
	}
	a := assign.Assignment{Part: j.lender(), Label: label, Instrument: in, RecognisedBy: ByNone, Silent: true}
	a.ID = j.surveyed.score.Parts[a.Part].ID
	if in != nil {
		a.RecognisedBy = ByPlan
	}
	made, err := j.make(w, a)
	if err == nil { // what is said of the part that lends its bars is said there
		made.Report.Warnings = nil
	}
	return made, err
}

// lender is the part that lends its bars: the first on one staff that has a signature.
func (j *Job) lender() int {
	for i := range j.surveyed.score.Parts {
		if p := &j.surveyed.score.Parts[i]; p.Staves == 1 && len(p.Keys) > 0 {
			return i
		}
	}
	return 0
}
