package survey

import (
	"io"
	"strconv"
	"strings"

	"deskpart/musicxml"
	"deskpart/musicxml/spreadsheet"
	"deskpart/transpose/pitch"
)

// Table writes scores as a table for a spreadsheet, a row for each part.
type Table struct{ out *spreadsheet.Writer }

// NewTable writes the headings.
func NewTable(w io.Writer) *Table {
	t := &Table{spreadsheet.NewWriter(w)}
	t.out.Row("score", "title", "pitch", "part", "id", "instrument", "recognised by", "player", "transposition", "keys", "lowest sounding", "highest sounding",
		"lowest written", "highest written", "range from", "range to", "notes", "measures", "warnings")
	return t
}

// Score writes the parts of a score that was found at a path. The player is the one whom a
// plan proposes for several parts, nothing for a part that is all its player has; the
// warnings are their codes, each once.
func (t *Table) Score(path string, s *Score) error {
	for i := range s.Parts {
		p, player := &s.Parts[i], ""
		if i < len(s.Players) {
			player = s.Players[i]
		}
		t.out.Row(path, s.Title, s.Pitch, p.Name, p.ID, p.Instrument, p.RecognisedBy, player, movedBy(p.Transpose.Interval()), p.keyCell(), p.LowestSounding, p.HighestSounding,
			p.LowestWritten, p.HighestWritten, p.RangeLow, p.RangeHigh, strconv.Itoa(p.Notes), strconv.Itoa(p.Measures), codesOf(p.Warnings))
	}
	return t.out.Flush()
}

// keyCell lists the signatures with the bars where they begin.
func (p *Part) keyCell() string {
	var all []string
	for _, k := range p.Keys {
		all = append(all, k.Measure+": "+pitch.SignatureWords(k.Fifths))
	}
	return strings.Join(all, "; ")
}

// codesOf lists the codes of warnings, each once, with how often.
func codesOf(warnings []musicxml.Warning) string {
	count := map[string]int{}
	var codes []string
	for _, w := range warnings {
		code := string(w.Code)
		if count[code]++; count[code] == 1 {
			codes = append(codes, code)
		}
	}
	for i, code := range codes {
		if n := count[code]; n > 1 {
			codes[i] += " ×" + strconv.Itoa(n)
		}
	}
	return strings.Join(codes, ", ")
}

// movedBy is a transposition in words, nothing for none.
func movedBy(by pitch.Interval) string {
	if by == (pitch.Interval{}) {
		return ""
	}
	return by.String()
}
