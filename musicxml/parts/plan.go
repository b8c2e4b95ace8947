package parts

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
)

// planColumns are the columns of a plan, in the order in which it is written.
var planColumns = []string{"part", "instrument", "octave", "clef", "label"}

// largestPlan bounds the size of a plan in bytes.
const largestPlan = 16 << 20

// ReadPlan reads a plan as a spreadsheet saves it: CSV with a first line that
// names the columns part, instrument, octave, clef and label in any order, commas
// or semicolons between them. Empty cells mean "as usual"; columns of other names
// are left alone.
func ReadPlan(r io.Reader) ([]PlanRow, error) {
	data, err := io.ReadAll(io.LimitReader(r, largestPlan))
	if err != nil {
		return nil, err
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	reader := csv.NewReader(bytes.NewReader(data))
	reader.FieldsPerRecord = -1
	reader.TrimLeadingSpace = true
	if line, _, _ := bytes.Cut(data, []byte("\n")); bytes.Count(line, []byte(";")) > bytes.Count(line, []byte(",")) {
		reader.Comma = ';'
	}
	lines, err := reader.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("the plan is not a table that can be read: %w", err)
	}
	if len(lines) == 0 {
		return nil, errors.New("the plan is empty; its first line is part,instrument,octave,clef,label")
	}
	column, err := planHeader(lines[0])
	if err != nil {
		return nil, err
	}
	var rows []PlanRow
	for _, line := range lines[1:] {
		cell := func(name string) string {
			if i, ok := column[name]; ok && i < len(line) {
				return strings.TrimSpace(line[i])
			}
			return ""
		}
		row := PlanRow{cell("part"), cell("instrument"), cell("octave"), cell("clef"), cell("label")}
		if row == (PlanRow{}) {
			continue
		}
		if row.Part == "" {
			return nil, fmt.Errorf("a line of the plan names no part: %q", strings.Join(line, ","))
		}
		rows = append(rows, row)
	}
	return rows, nil
}

func planHeader(line []string) (map[string]int, error) {
	column := map[string]int{}
	for i, name := range line {
		column[strings.ToLower(strings.TrimSpace(name))] = i
	}
	if _, ok := column["part"]; !ok {
		return nil, errors.New("the plan's first line has no column \"part\"; it should be part,instrument,octave,clef,label")
	}
	return column, nil
}

// WritePlan writes a plan that a spreadsheet opens.
func WritePlan(w io.Writer, rows []PlanRow) error {
	table := csv.NewWriter(w)
	table.Write(planColumns)
	for _, r := range rows {
		table.Write([]string{r.Part, r.Instrument, r.Octave, r.Clef, r.Label})
	}
	table.Flush()
	return table.Error()
}
