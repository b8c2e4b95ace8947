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
		rows[i] = parts.PlanRow{Part: s.Parts[i].planName}
		if !s.Parts[i].changes {
			rows[i].Instrument = s.Parts[i].Instrument
		}
	}
	return rows
}
