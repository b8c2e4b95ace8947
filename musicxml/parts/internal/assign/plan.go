package assign

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
// names the columns part, instrument, octave, clef, label and copies in any order,
// commas or semicolons between them. Empty cells mean "as usual"; columns of other
// names are left alone.
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
	header, err := reader.Read()
	if err == io.EOF {
		return nil, errors.New("the plan is empty; its first line is part,instrument,octave,clef,label")
	}
	var rows []PlanRow
	var column map[string]int
	if err == nil {
		if column, err = planHeader(header); err != nil {
			return nil, err
		}
	}
	for err == nil {
		var line []string
		if line, err = reader.Read(); err != nil {
			break
		}
		cell := func(name string) string {
			if i, ok := column[name]; ok && i < len(line) {
				return strings.TrimSpace(line[i])
			}
			return ""
		}
		row := PlanRow{Part: cell("part"), Instrument: cell("instrument"), Octave: cell("octave"), Clef: cell("clef"), Label: cell("label"), Copies: cell("copies")}
		if row == (PlanRow{}) {
			continue
		}
		row.Line, _ = reader.FieldPos(0)
		if row.Part == "" {
			return nil, fmt.Errorf("line %d names no part: %q", row.Line, strings.Join(line, ","))
		}
		rows = append(rows, row)
	}
	if err != io.EOF {
		return nil, fmt.Errorf("the plan is not a table that can be read: %w", err)
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
