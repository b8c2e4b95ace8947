package fit

import "deskpart/musicxml/parts"

// PlanRows is the plan of a score as it is: a row for each part, for its own
// instrument. Octave, clef and label are left open, so that a row whose instrument
// is changed does not keep those of the old one; and so is the instrument of a
// player who changes it on the way, for a plan that names one means that one
// throughout. So the plan, unchanged, leads to the usual parts.
func (s *Score) PlanRows() []parts.PlanRow {
	rows := make([]parts.PlanRow, len(s.Parts))
	for i := range s.Parts {
		rows[i] = parts.PlanRow{Part: s.planName(i)}
		if !s.Parts[i].changes {
			rows[i].Instrument = s.Parts[i].Instrument
		}
	}
	return rows
}

// planName is what a plan calls a part: its name where that means no other part,
// else its id.
func (s *Score) planName(i int) string {
	p := &s.Parts[i]
	if p.Name == "" {
		return p.ID
	}
	for k := range s.Parts {
		other := &s.Parts[k]
		if k != i && parts.MatchesPattern(p.Name, other.ID, other.Name, other.label) {
			return p.ID
		}
	}
	return p.Name
}
