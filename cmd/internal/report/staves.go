package report

import (
	"cmp"
	"slices"

	"deskpart/musicxml/parts"
)

// StaffRow is one of several parts of the score that a part file is made of.
type StaffRow struct {
	SourcePart string `json:"source_part"`
	SourceName string `json:"source_name"`
	Label      string `json:"label"`
	Instrument string `json:"instrument"`
}

// stavesOf lists the parts of the score that a player has, in score order; none where it
// is one.
func stavesOf(a parts.Assignment) []StaffRow {
	if len(a.With) == 0 {
		return nil
	}
	all := append([]parts.Assignment{a}, a.With...)
	slices.SortStableFunc(all, func(a, b parts.Assignment) int {
		return cmp.Or(cmp.Compare(a.Part, b.Part), cmp.Compare(a.Player, b.Player))
	})
	var rows []StaffRow
	for _, a := range all {
		row := StaffRow{SourcePart: a.ID, SourceName: a.Name, Label: a.StaffLabel}
		if a.Instrument != nil {
			row.Instrument = a.Instrument.ID
		}
		rows = append(rows, row)
	}
	return rows
}
