package marking

import (
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml"
)

// Marker marks answers by keys: one, or those of a sheet.
type Marker struct {
	Keys  []*Key
	Texts *texts.Texts
}

// Mark marks all answers that a file holds: staves, or exercises one after another
// on a staff. What the notes are decides which exercise an answer belongs to; what
// the file says and what it is called decide between equals. A copy of the question
// beside an answer is passed over. The error is that of a file that cannot be read.
func (m Marker) Mark(answer *musicxml.Score) ([]Result, error) {
	file, err := readAnswer(answer)
	if err != nil {
		return nil, err
	}
	hints := hintsOf(answer.Name, file.fields)
	var found []Result
	for _, c := range m.withoutQuestions(file.candidates) {
		found = append(found, m.staff(c.music, hints.withPart(c.part, len(file.candidates)))...)
	}
	results := bestOfEach(found)
	for i := range results {
		results[i].File = answer.Name
	}
	return results, nil
}

// staff marks the answers of one staff.
func (m Marker) staff(answer *music, h hints) []Result {
	sections := m.divide(answer)
	if len(sections) < 2 {
		return []Result{m.choose(answer, h)}
	}
	var results []Result
	for _, s := range sections {
		r := s.key.examine(answer.section(s.from, s.to), m.Texts)
		r.Why = m.Texts.Say("marking.why-in-order", nil)
		results = append(results, r)
	}
	return results
}

// withoutQuestions leaves out staves that only copy a question, unless there are no
// others.
func (m Marker) withoutQuestions(all []candidate) []candidate {
	var kept []candidate
	for _, c := range all {
		if !m.copiesQuestion(c.music.trimmed()) {
			kept = append(kept, c)
		}
	}
	if len(kept) == 0 {
		return all
	}
	return kept
}

func (m Marker) copiesQuestion(answer *music) bool {
	for _, k := range m.Keys {
		if k.given != nil && k.moved != same && answer.sameHeads(k.given) {
			return true
		}
	}
	return false
}

// bestOfEach keeps the best answer to each exercise, in the order of the exercises.
func bestOfEach(found []Result) []Result {
	var kept []Result
	for _, r := range found {
		at := -1
		for i := range kept {
			if kept[i].examined.Key == r.examined.Key {
				at = i
			}
		}
		switch {
		case at < 0:
			kept = append(kept, r)
		case better(r, kept[at]):
			kept[at] = r
		}
	}
	return kept
}

func better(a, b Result) bool {
	if a.Right != b.Right {
		return a.Right > b.Right
	}
	if a.Lenient != b.Lenient {
		return a.Lenient > b.Lenient
	}
	return len(a.Mistakes) < len(b.Mistakes)
}
