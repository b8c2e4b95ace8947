package survey

import (
	"cmp"
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
		q.Sound = cmp.Or(q.Sound, in.Sound)
		if q.Program == 0 {
			q.Program = in.Program
		}
	}
	if q.Program == 0 && len(p.Instruments) == 0 {
		q.Program = p.LoneProgram()
	}
	return q
}

// Recognise asks the catalogue which instruments the score's parts are for, once every
// part has been read: by what the part-list says of them and by what stands in their
// notes.
func (c *Score) Recognise() {
	queries := make([]instruments.Query, len(c.Parts))
	for i := range c.Parts {
		queries[i] = queryOf(c.ScoreParts[i])
		queries[i].Music = c.Parts[i].music()
	}
	for i, m := range c.Catalogue.MatchScore(queries) {
		s := &c.Parts[i]
		s.Match = m
		s.InSounding, s.InWritten = s.facts.inRange(m.Instrument)
	}
}
