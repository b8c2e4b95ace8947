package assign

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"deskpart/musicxml/spreadsheet"
)

// planColumns are the columns of a plan, in the order in which it is written.
var planColumns = []string{"part", "instrument", "octave", "clef", "label", "player", "copies"}

// largestPlan bounds the size of a plan in bytes.
const largestPlan = 16 << 20

// ReadPlan reads a plan as a spreadsheet saves it (see package spreadsheet), with a first
// line that names the columns part, instrument, octave, clef, label, player and
// copies in any
// order. Empty cells mean "as usual"; columns of other names are left alone.
func ReadPlan(r io.Reader) ([]PlanRow, error) {
	lines, err := spreadsheet.Read(r, largestPlan, 0)
	if err != nil {
		return nil, fmt.Errorf("the plan cannot be read: %w", err)
	}
	if len(lines) == 0 {
		return nil, errors.New("the plan is empty; its first line is part,instrument,octave,clef,label,player,copies")
	}
	column, err := planHeader(lines[0].Cells)
	if err != nil {
		return nil, err
	}
	var rows []PlanRow
	for _, line := range lines[1:] {
		cell := func(name string) string {
			if i, ok := column[name]; ok {
				return line.Cell(i)
			}
			return ""
		}
		row := PlanRow{Part: cell("part"), Instrument: cell("instrument"), Octave: cell("octave"), Clef: cell("clef"), Label: cell("label"), Player: cell("player"), Copies: cell("copies")}
		if row == (PlanRow{}) {
			continue
		}
		row.Line = line.Line
		if row.Part == "" {
			return nil, fmt.Errorf("line %d names no part: %q", row.Line, strings.Join(line.Cells, ","))
		}
		rows = append(rows, row)
	}
	return rows, nil
}

func planHeader(line []string) (map[string]int, error) {
	column := map[string]int{}
	for i, name := range line {
		column[strings.ToLower(name)] = i
	}
	if _, ok := column["part"]; !ok {
		return nil, errors.New("the plan's first line has no column \"part\"; it should be part,instrument,octave,clef,label,player,copies")
	}
	return column, nil
}

// WritePlan writes a plan that a spreadsheet opens.
func WritePlan(w io.Writer, rows []PlanRow) error {
	table := spreadsheet.NewWriter(w)
	table.Row(planColumns...)
	for _, r := range rows {
		table.Row(r.Part, r.Instrument, r.Octave, r.Clef, r.Label, r.Player, r.Copies)
	}
	return table.Flush()
}
