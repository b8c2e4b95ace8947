package instruments

import (
	"cmp"
	"slices"
	"strings"
)

// Find returns the instruments that a user's words mean, the likeliest first: an
// id, a name in any language with or without key ("clarinet in A", "bb trumpet"),
// a family. After the one meant come those of the same key in other notations, or,
// where no key was said, the others of the kind. It is empty where nothing fits.
func (c *Catalogue) Find(text string) []*Instrument {
	id := strings.ToLower(strings.TrimSpace(text))
	if i := c.byID[id]; i != nil {
		return []*Instrument{i}
	}
	m := c.Match(Query{Name: text})
	if !m.Recognised() {
		return c.FamilyMembers(id)
	}
	found := append([]*Instrument{m.Instrument}, m.Alternatives...)
	for _, i := range c.byKind[m.Instrument.Kind] {
		if m.By == ByFamily || m.KeyStated && i.Key == m.Instrument.Key {
			found = append(found, i)
		}
	}
	return distinct(found)
}

func distinct(list []*Instrument) []*Instrument {
	var kept []*Instrument
	for _, i := range list {
		if !slices.Contains(kept, i) {
			kept = append(kept, i)
		}
	}
	return kept
}

// Similar returns up to n ids that are spelled nearly like the words: what the user
// may have meant where Find is empty.
func (c *Catalogue) Similar(text string, n int) []string {
	word := strings.ReplaceAll(fold(strings.TrimSpace(text)), " ", "-")
	word = word[:min(len(word), 60)]
	type guess struct {
		id       string
		distance int
	}
	var guesses []guess
	for _, i := range c.all {
		for _, name := range []string{i.ID, i.Kind} {
			if d := editDistance(word, name); d <= 1+len(name)/4 {
				guesses = append(guesses, guess{i.ID, d})
				break
			}
		}
	}
	slices.SortStableFunc(guesses, func(a, b guess) int { return cmp.Compare(a.distance, b.distance) })
	var ids []string
	for _, g := range guesses[:min(n, len(guesses))] {
		ids = append(ids, g.id)
	}
	return ids
}

// editDistance counts the letters to insert, delete or replace (Levenshtein).
func editDistance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
