package verify

import (
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
)

// Result is what became of one part.
type Result struct {
	Name, ID string // as in the score
	Verdict  Verdict
	Findings []Finding // what differs, in order; none where the part is identical
}

// Score verifies every part of a score, one after the other. The error names the part
// that cannot be read. Who wants several at once calls Part from each worker, with a
// Memory of its own.
func Score(score *musicxml.Score, catalogue *instruments.Catalogue, o Options) ([]Result, error) {
	s, err := parts.Survey(score, catalogue, o.survey())
	if err != nil {
		return nil, err
	}
	results := make([]Result, len(score.Parts))
	var memory Memory
	for i := range results {
		verdict, found, err := Part(s, i, o, &memory)
		if err != nil {
			return nil, err
		}
		name, id := s.PartName(i)
		results[i] = Result{name, id, verdict, found}
	}
	return results, nil
}

// DefaultOptions are those of the command.
func DefaultOptions() Options { return Options{MaxSignature: parts.DefaultOptions().MaxSignature} }

// survey says how the score is read.
func (o Options) survey() parts.Options {
	p := parts.DefaultOptions()
	p.MaxSignature, p.Spelling = o.MaxSignature, o.Spelling
	return p
}
