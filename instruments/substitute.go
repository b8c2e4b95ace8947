package instruments

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"deskpart/musicxml/spreadsheet"
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
	s := &Substitutes{map[string][]*Instrument{}}
	return s, readRows(c.files, "substitutes.csv", substituteColumns, func(r row) error {
		instrument, substitute := c.byID[r.text("instrument")], c.byID[r.text("substitute")]
		switch {
		case instrument == nil:
			return r.errorf("instrument", "%q is no instrument", r.text("instrument"))
		case substitute == nil || substitute == instrument:
			return r.errorf("substitute", "%q is no other instrument", r.text("substitute"))
		case r.text("source") == "":
			return r.errorf("source", "is empty")
		case slices.Contains(s.standIns[instrument.ID], substitute):
			return r.errorf("substitute", "%q stands twice", r.text("substitute"))
		}
		s.add(instrument, substitute)
		_, err := word(r, "confidence", "published", "memory")
		return err
	})
}

// largestTable bounds a table of one's own, in bytes.
const largestTable = 1 << 20

// ReadSubstitutes reads a table of one's own, as a spreadsheet saves it: with a first line
// that names the columns instrument and substitute (see package spreadsheet);
// instruments by id or by name. All that is wrong with it is one error.
func (c *Catalogue) ReadSubstitutes(r io.Reader) (*Substitutes, error) {
	lines, err := spreadsheet.Read(r, largestTable, 0)
	if err != nil {
		return nil, fmt.Errorf("is not a table that can be read: %w", err)
	}
	from, to := -1, -1
	if len(lines) > 0 {
		from, to = column(lines[0].Cells, "instrument"), column(lines[0].Cells, "substitute")
	}
	if from < 0 || to < 0 {
		return nil, errors.New("has no columns instrument and substitute in its first line")
	}
	s := &Substitutes{map[string][]*Instrument{}}
	var wrong []string
	for _, line := range lines[1:] {
		if err := c.addSubstitute(s, line.Cell(from), line.Cell(to)); err != nil {
			wrong = append(wrong, fmt.Sprintf("line %d: %s", line.Line, err))
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
