package plan

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"deskpart/instruments"
	"deskpart/musicxml/spreadsheet"
)

// columns are the columns of a plan, in the order in which it is written.
var columns = []string{"part", "instrument", "octave", "clef", "label", "player", "copies"}

// largest bounds the size of a plan in bytes.
const largest = 16 << 20

// Read reads a plan as a spreadsheet saves it (see package spreadsheet), with a first
// line that names the columns part, instrument, octave, clef, label, player and
// copies in any order. Empty cells mean "as usual"; columns of other names are left alone, but for a
// misspelling.
func Read(r io.Reader) ([]Row, error) {
	lines, err := spreadsheet.Read(r, largest, 0)
	if err != nil {
		return nil, fmt.Errorf("the plan cannot be read: %w", err)
	}
	if len(lines) == 0 {
		return nil, errors.New("the plan is empty; its first line is part,instrument,octave,clef,label,player,copies")
	}
	column, err := header(lines[0].Cells)
	if err != nil {
		return nil, err
	}
	var rows []Row
	for _, line := range lines[1:] {
		cell := func(name string) string {
			if i, ok := column[name]; ok {
				return line.Cell(i)
			}
			return ""
		}
		row := Row{Part: cell("part"), Instrument: cell("instrument"), Octave: cell("octave"), Clef: cell("clef"), Label: cell("label"), Player: cell("player"), Copies: cell("copies")}
		if row == (Row{}) {
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

func header(line []string) (map[string]int, error) {
	column := map[string]int{}
	for i, name := range line {
		column[strings.ToLower(name)] = i
	}
	if err := misspelled(line, column); err != nil {
		return nil, err
	}
	if !has(column, "part") {
		return nil, errors.New("the plan's first line has no column \"part\"; it should be part,instrument,octave,clef,label,player,copies")
	}
	return column, nil
}

// misspelled refuses a column that is spelled nearly like one of the plan's that is not
// there: what stands in it would be passed over in silence.
func misspelled(line []string, column map[string]int) error {
	for _, name := range line {
		if slices.Contains(columns, strings.ToLower(name)) {
			continue
		}
		for _, place := range instruments.Nearest(strings.ToLower(name), columns, len(columns)) {
			if known := columns[place]; !has(column, known) {
				return fmt.Errorf("the plan has a column %q and none called %s; write %[2]s if that is meant, or give the column another name", name, known)
			}
		}
	}
	return nil
}

func has(column map[string]int, name string) bool {
	_, ok := column[name]
	return ok
}

// Write writes a plan that a spreadsheet opens.
func Write(w io.Writer, rows []Row) error {
	table := spreadsheet.NewWriter(w)
	table.Row(columns...)
	for _, r := range rows {
		table.Row(r.Part, r.Instrument, r.Octave, r.Clef, r.Label, r.Player, r.Copies)
	}
	return table.Flush()
}
