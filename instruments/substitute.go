package instruments

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// Substitutes say which instruments commonly stand in for others, so that a set has a
// part for them too. Nothing in it changes.
type Substitutes struct {
	standIns map[string][]*Instrument // by the id of the instrument
}

// For returns the instruments that stand in for one, in the order of the table.
func (s *Substitutes) For(i *Instrument) []*Instrument {
	if i == nil {
		return nil
	}
	return slices.Clone(s.standIns[i.ID])
}

func (s *Substitutes) add(instrument, substitute *Instrument) {
	if !slices.Contains(s.standIns[instrument.ID], substitute) {
		s.standIns[instrument.ID] = append(s.standIns[instrument.ID], substitute)
	}
}

var substituteColumns = []string{"instrument", "substitute", "note", "source", "confidence"}

// Substitutes returns those of substitutes.csv. The error names file, line and column.
func (c *Catalogue) Substitutes() (*Substitutes, error) {
	t, err := readTable(c.files, "substitutes.csv", substituteColumns...)
	if err != nil {
		return nil, err
	}
	s := &Substitutes{map[string][]*Instrument{}}
	for _, r := range t.rows {
		instrument, substitute := c.byID[r.text("instrument")], c.byID[r.text("substitute")]
		switch {
		case instrument == nil:
			return nil, r.errorf("instrument", "%q is no instrument", r.text("instrument"))
		case substitute == nil || substitute == instrument:
			return nil, r.errorf("substitute", "%q is no other instrument", r.text("substitute"))
		case r.text("source") == "":
			return nil, r.errorf("source", "is empty")
		case slices.Contains(s.standIns[instrument.ID], substitute):
			return nil, r.errorf("substitute", "%q stands twice", r.text("substitute"))
		}
		if _, err := r.word("confidence", "published", "memory"); err != nil {
			return nil, err
		}
		s.add(instrument, substitute)
	}
	return s, nil
}

// largestTable bounds a table of one's own, in bytes.
const largestTable = 1 << 20

// ReadSubstitutes reads a table of one's own, as a spreadsheet saves it: a first line
// that names the columns instrument and substitute, commas or semicolons between them;
// instruments by id or by name. All that is wrong with it is one error.
func (c *Catalogue) ReadSubstitutes(r io.Reader) (*Substitutes, error) {
	data, err := io.ReadAll(io.LimitReader(r, largestTable))
	if err != nil {
		return nil, err
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	reader := csv.NewReader(bytes.NewReader(data))
	reader.FieldsPerRecord, reader.TrimLeadingSpace = -1, true
	if line, _, _ := bytes.Cut(data, []byte("\n")); bytes.Count(line, []byte(";")) > bytes.Count(line, []byte(",")) {
		reader.Comma = ';'
	}
	lines, err := reader.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("is not a table that can be read: %w", err)
	}
	from, to := -1, -1
	if len(lines) > 0 {
		from, to = column(lines[0], "instrument"), column(lines[0], "substitute")
	}
	if from < 0 || to < 0 {
		return nil, errors.New("has no columns instrument and substitute in its first line")
	}
	s := &Substitutes{map[string][]*Instrument{}}
	var wrong []string
	for n, line := range lines[1:] {
		if err := c.addSubstitute(s, cell(line, from), cell(line, to)); err != nil {
			wrong = append(wrong, fmt.Sprintf("line %d: %s", n+2, err))
		}
	}
	if len(wrong) > 0 {
		return nil, errors.New(strings.Join(wrong, "; "))
	}
	return s, nil
}

func column(header []string, name string) int {
	return slices.IndexFunc(header, func(h string) bool { return strings.EqualFold(strings.TrimSpace(h), name) })
}

func cell(line []string, i int) string {
	if i >= len(line) {
		return ""
	}
	return strings.TrimSpace(line[i])
}

func (c *Catalogue) addSubstitute(s *Substitutes, from, to string) error {
	if from == "" && to == "" {
		return nil
	}
	var pair [2]*Instrument
	for i, name := range []string{from, to} {
		found := c.Find(name)
		if len(found) == 0 || len(c.Match(Query{Name: name}).Unknown) > 0 && c.byID[name] == nil {
			return c.NotFound(name)
		}
		pair[i] = found[0]
	}
	if pair[0] == pair[1] {
		return fmt.Errorf("%q stands in for itself", to)
	}
	s.add(pair[0], pair[1])
	return nil
}
