package survey

import "deskpart/musicxml/parts"

// PlanRows is the plan of a score as it is, or of the movements of a work: a row for
// each part, for its own instrument. Octave, clef and label are left open, so that a row
// whose instrument is changed does not keep those of the old one; and so is the
// instrument of a player who changes it on the way, within a movement or between two, for
// a plan that names one means that one throughout. So the plan, unchanged, leads to the
// usual parts.
func PlanRows(scores []Score) []parts.PlanRow {
	var rows []parts.PlanRow
	at := map[string]int{} // of a part's row, by what the plan calls it
	for i := range scores {
		for _, row := range scores[i].planRows() {
			k, known := at[row.Part]
			if !known {
				at[row.Part] = len(rows)
				rows = append(rows, row)
				continue
			}
			if rows[k].Instrument != row.Instrument {
				rows[k].Instrument = ""
			}
			if rows[k].Player != row.Player {
				rows[k].Player = ""
			}
		}
	}
	return loneless(rows)
}

// loneless takes out players who were left with one staff.
func loneless(rows []parts.PlanRow) []parts.PlanRow {
	staves := map[string]int{}
	for _, row := range rows {
		staves[row.Player]++
	}
	for i := range rows {
		if staves[rows[i].Player] < 2 {
			rows[i].Player = ""
		}
	}
	return rows
}

// planRows are those of one score.
func (s *Score) planRows() []parts.PlanRow {
	rows := make([]parts.PlanRow, len(s.Parts))
	for i := range s.Parts {
		rows[i] = parts.PlanRow{Part: s.Parts[i].planName}
		if !s.Parts[i].changes {
			rows[i].Instrument = s.Parts[i].Instrument
		}
		if i < len(s.Players) {
			rows[i].Player = s.Players[i]
		}
	}
	return rows
}
