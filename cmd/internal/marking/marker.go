package marking

import (
	"cmp"
	"slices"
	"strings"

	"deskpart/cmd/internal/texts"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
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
	m, whole := m.oneExercise(file.candidates, hints)
	var found []Result
	var open []choice
	for i, c := range m.together(m.withoutQuestions(file.candidates)) {
		c.music.borrowChords(file.candidates)
		sections := m.divide(c.music)
		if len(sections) > 1 {
			sections = withoutPrinted(sections)
			if len(sections) > 1 {
				found = append(found, m.sections(c.music, sections)...)
				continue
			}
			c.music = c.music.section(sections[0].from, sections[0].to)
		}
		open = append(open, choice{i, m.choose(c.music, hints.withPart(c.part, len(file.candidates)))})
	}
	results := m.joinStaves(bestOfEach(append(found, assign(open)...)))
	for i := range results {
		results[i].Input, results[i].File = answer.Name, answer.Name
		if whole != "" {
			results[i].Why = whole
		}
	}
	return results, nil
}

// together makes one staff of two that have a part each of an exercise in two parts.
func (m Marker) together(staves []candidate) []candidate {
	if len(staves) != 2 {
		return staves
	}
	both := *staves[0].music
	both.beside = staves[1].music
	both.heads = slices.Concat(both.heads, staves[1].music.heads)
	both.order()
	for _, k := range m.Keys {
		e := k.expected
		if e.hasChords() && align(e, &both).cost < min(align(e, staves[0].music).cost, align(e, staves[1].music).cost) {
			return []candidate{{&both, staves[0].part}}
		}
	}
	return staves
}

// hasChords reports whether notes stand at once.
func (m *music) hasChords() bool {
	for i := 1; i < len(m.heads); i++ {
		if m.heads[i].bar == m.heads[i-1].bar && m.heads[i].onset == m.heads[i-1].onset {
			return true
		}
	}
	return false
}

// borrowChords takes the names of chords from another staff of the file, where this
// one has none.
func (m *music) borrowChords(all []candidate) {
	for _, c := range all {
		if len(m.chords) == 0 && len(c.music.chords) > 0 {
			m.chords = c.music.chords
		}
	}
}

// sections marks the exercises on a staff.
func (m Marker) sections(answer *music, list []section) []Result {
	var results []Result
	for _, s := range list {
		r := s.key.examine(answer.section(s.from, s.to), m.Texts)
		r.Why = m.Texts.Say("marking.why-in-order", nil)
		results = append(results, r)
	}
	return results
}

// choice is a staff with what it may be, the likeliest first.
type choice struct {
	staff   int
	results []Result
}

// assign gives each staff a key of its own: those that fit best choose first.
func assign(open []choice) []Result {
	slices.SortStableFunc(open, func(a, b choice) int { return cmp.Compare(fits(b.results[0]), fits(a.results[0])) })
	taken := map[*Key]bool{}
	type found struct {
		staff int
		Result
	}
	var list []found
	for _, c := range open {
		for _, r := range c.results {
			if !taken[r.key()] {
				taken[r.key()] = true
				list = append(list, found{c.staff, r})
				break
			}
		}
	}
	slices.SortStableFunc(list, func(a, b found) int { return cmp.Compare(a.staff, b.staff) })
	var results []Result
	for _, f := range list {
		results = append(results, f.Result)
	}
	return results
}

// withoutQuestions leaves out staves that only copy a question, unless there are no
// others.
func (m Marker) withoutQuestions(all []candidate) []candidate {
	var kept []candidate
	for _, c := range all {
		if !m.copiesQuestion(c.music.trimmed(), c.part) {
			kept = append(kept, c)
		}
	}
	if len(kept) == 0 {
		return all
	}
	return kept
}

// copiesQuestion reports whether a staff is a question and no answer: to some player
// of a band the question is the answer. A staff with a player's name is held against
// that player's alone.
func (m Marker) copiesQuestion(answer *music, part string) bool {
	keys := slices.DeleteFunc(slices.Clone(m.Keys), func(k *Key) bool { return !k.samePart(part) })
	if len(keys) == 0 {
		keys = m.Keys
	}
	question := false
	for _, k := range keys {
		if answer.sameHeads(k.expected) {
			return false
		}
		question = question || k.given != nil && k.moved != same && answer.sameHeads(k.given)
	}
	return question
}

// bestOfEach keeps the best answer to each key, in the order in which they were found.
func bestOfEach(found []Result) []Result {
	var kept []Result
	for _, r := range found {
		at := slices.IndexFunc(kept, func(k Result) bool { return k.key() == r.key() })
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

// joinStaves makes one result of the staves of an exercise that has several.
func (m Marker) joinStaves(staves []Result) []Result {
	var joined []Result
	for _, r := range staves {
		if r.key().Staves < 2 {
			joined = append(joined, r)
			continue
		}
		at := slices.IndexFunc(joined, func(j Result) bool {
			return j.Exercise == r.Exercise && j.Sheet == r.Sheet && j.key().Name == r.key().Name
		})
		if at < 0 {
			joined = append(joined, m.wholeExercise(r, staves))
		}
	}
	return joined
}

// wholeExercise gathers the staves of the exercise of one of them, in the order of the
// key, and says which are missing.
func (m Marker) wholeExercise(one Result, staves []Result) Result {
	whole := Result{Exercise: one.Exercise, Sheet: one.Sheet, Why: one.Why, Mistakes: []Mistake{}}
	toDo := false
	for _, k := range m.Keys {
		if k.Name != one.key().Name || k.Number != one.Exercise {
			continue
		}
		toDo = toDo || k.moves()
		at := slices.IndexFunc(staves, func(r Result) bool { return r.key() == k })
		if at < 0 {
			whole.addMissing(k, m.Texts)
			continue
		}
		whole.addStaff(staves[at], m.Texts)
	}
	if toDo && !whole.anyDone() {
		whole.Right, whole.Lenient, whole.RightPitch = 0, 0, 0
		whole.Marks.Strict, whole.Marks.Lenient = 0, 0
	}
	return whole
}

// moves reports whether there is something to do on a key's staff.
func (k *Key) moves() bool { return k.given == nil || k.moved != same }

// anyDone reports whether any staff on which there was something to do is more than
// the question: else those on which there was not have earned nothing either.
func (r *Result) anyDone() bool {
	return slices.ContainsFunc(r.examined, func(e examined) bool {
		return e.moves() && !slices.ContainsFunc(e.mistakes, func(i int) bool { return r.Mistakes[i].Rule == RuleCopied })
	})
}

// addStaff adds what one staff came to.
func (r *Result) addStaff(s Result, t *texts.Texts) {
	r.Add(s)
	x := examined{s.examined[0].examiner, s.examined[0].handedIn, nil}
	for _, mistake := range s.Mistakes {
		mistake.Part = s.key().Part
		mistake.Place = t.Say("marking.part-place", texts.Fill{"part": mistake.Part, "place": mistake.Place})
		x.mistakes = append(x.mistakes, len(r.Mistakes))
		r.Mistakes = append(r.Mistakes, mistake)
	}
	for _, text := range s.Remarks {
		r.Remarks = append(r.Remarks, t.Say("marking.part-place", texts.Fill{"part": s.key().Part, "place": text}))
	}
	r.examined = append(r.examined, x)
}

// addMissing adds a staff that was not handed in.
func (r *Result) addMissing(k *Key, t *texts.Texts) {
	n := len(k.expected.heads)
	of := n + tally(k.asksSignature()) + tally(k.asksClef()) + len(k.chords)
	r.Notes, r.Marks.Of = r.Notes+n, r.Marks.Of+of
	text := t.Say("marking.staff-missing", texts.Fill{"part": k.Part})
	r.Mistakes = append(r.Mistakes, Mistake{Kind: Missing, Rule: RuleStavesMissing, Part: k.Part, Place: k.Part, Measure: k.expected.bars[0].number, Beat: "1",
		Notes: n, Text: text, Cause: t.Say("marking.cause-staff-missing", nil), costs: n})
}

// samePart reports whether a staff bears the name of a key's.
func (k *Key) samePart(name string) bool {
	return name != "" && strings.EqualFold(strings.TrimSpace(name), strings.TrimSpace(k.Part))
}

// MarkFile marks the answers of a file, whose first bytes tell what it is: a file that is
// no score, or that read cannot read, is a line that says so.
func (m Marker) MarkFile(path string, begin []byte, read func() (*musicxml.Score, error)) []Result {
	if !LooksLikeScore(path, begin) || len(begin) == 0 || IsSystemFile(path) {
		return []Result{Unmarked(m.Texts, path, KindOf(path, begin), nil)}
	}
	score, err := read()
	if err != nil {
		return []Result{Unmarked(m.Texts, path, CodeOf(path, begin, err), err)}
	}
	results, err := m.Mark(score)
	if err != nil {
		return []Result{Unmarked(m.Texts, path, notice.Unreadable, err)}
	}
	return results
}
