package survey

import (
	"slices"

	"deskpart/instruments"
	"deskpart/musicxml"
)

// queryOf puts what the part-list says of a part before the catalogue.
func queryOf(p musicxml.ScorePart) instruments.Query {
	q := instruments.Query{Name: p.Name, Display: p.NameDisplay, Abbreviation: p.Abbreviation, Groups: slices.Clone(p.Groups)}
	slices.Reverse(q.Groups) // the nearest first
	for _, in := range p.Instruments {
		q.InstrumentNames = append(q.InstrumentNames, in.Name)
		if q.Sound == "" {
			q.Sound = in.Sound
		}
		if q.Program == 0 {
			q.Program = in.Program
		}
	}
	if q.Program == 0 && len(p.Instruments) == 0 {
		q.Program = p.LoneProgram()
	}
	return q
}

// recognise asks the catalogue which instruments the score's parts are for.
func (c *Score) recognise() []instruments.Match {
	queries := make([]instruments.Query, len(c.ScoreParts))
	for i, p := range c.ScoreParts {
		queries[i] = queryOf(p)
	}
	return c.Catalogue.MatchScore(queries)
}
