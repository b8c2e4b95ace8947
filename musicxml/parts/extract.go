package parts

import (
	"iter"

	"deskpart/instruments"
	"deskpart/musicxml"
)

// Extract makes every part of a score, in order: Survey, Assign and Make in one call,
// for whom nothing of that needs to be known apart. Each part comes with who plays it.
// A part that cannot be made comes as an error and the others follow; where the score
// itself cannot be read or assigned, the error comes alone.
func Extract(score *musicxml.Score, catalogue *instruments.Catalogue, o Options) iter.Seq2[Extracted, error] {
	return func(yield func(Extracted, error) bool) {
		surveyed, err := Survey(score, catalogue, o)
		var job *Job
		if err == nil {
			job, err = surveyed.Assign()
		}
		if err != nil {
			yield(Extracted{}, err)
			return
		}
		for i, a := range job.Assignments() {
			made, err := job.Make(i)
			if !yield(Extracted{Assignment: a, Part: made}, err) {
				return
			}
		}
	}
}

// Extracted is a part and who plays it. Part is nil where the part could not be made.
type Extracted struct {
	Assignment
	*Part
}
