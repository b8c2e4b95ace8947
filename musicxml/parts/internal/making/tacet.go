package making

import (
	"deskpart/instruments"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/stages"
	"deskpart/musicxml/parts/plan"
)

// Tacet makes the sheet of a player of a work who has nothing in this movement: the bars,
// keys and marks of the score, and the word. The instrument is what the player would read
// it for, nil where that is not known.
func (m *Maker) Tacet(w *stages.Workspace, label string, in *instruments.Instrument) (Made, error) {
	a := assign.Assignment{Assignment: plan.Assignment{Part: m.lender(), Label: label, Instrument: in, RecognisedBy: assign.ByNone}, Silent: true}
	a.ID = m.Surveyed.Parts[a.Part].ID
	if in != nil {
		a.RecognisedBy = assign.ByPlan
	}
	made, err := m.staff(w, &a)
	if err == nil { // what is said of the part that lends its bars is said there
		made.Report.Warnings = nil
	}
	return made, err
}

// lender is the part that lends its bars: the first on one staff that has a signature.
func (m *Maker) lender() int {
	for i := range m.Surveyed.Parts {
		if p := &m.Surveyed.Parts[i]; p.Staves == 1 && len(p.Keys) > 0 {
			return i
		}
	}
	return 0
}
