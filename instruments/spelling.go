package instruments

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"github.com/agnivade/levenshtein"
)

// Spelling returns a name in a form that all its spellings share: without case, accents
// and punctuation, with keys and numbers written in one way. "Clarinet in B♭ I",
// "clarinet in B-flat 1" and "CLARINET in Bb, 1st" are "clarinet in bb 1". It is "" for
// a name without letters and digits.
func (c *Catalogue) Spelling(name string) string {
	tokens := tokenize(name)
	var words []string
	for n := 0; n < len(tokens); {
		if key, length := c.vocabulary.readKey(tokens[n:]); length > 0 {
			words = append(words, strings.ToLower(key.key))
			n += length
			continue
		}
		if number, length := c.vocabulary.readNumber(tokens[n:]); length > 0 {
			words = append(words, strconv.Itoa(number))
			n += length
			continue
		}
		words = append(words, tokens[n].text)
		n++
	}
	return strings.Join(words, " ")
}

// Nearest returns the places of up to n of some words that are spelled nearly like
// another, the nearest first: by the letters to insert, delete or replace
// (Levenshtein), at most one and a quarter of the word.
func Nearest(word string, among []string, n int) []int {
	word = word[:min(len(word), maxNameLength)]
	type guess struct{ place, distance int }
	var guesses []guess
	for place, other := range among {
		if d := levenshtein.ComputeDistance(word, other); other != "" && d <= 1+len(other)/4 {
			guesses = append(guesses, guess{place, d})
		}
	}
	slices.SortStableFunc(guesses, func(a, b guess) int { return cmp.Compare(a.distance, b.distance) })
	var places []int
	for _, g := range guesses[:min(n, len(guesses))] {
		places = append(places, g.place)
	}
	return places
}

// Similar returns up to n ids that are spelled nearly like the words: what the user
// may have meant where Find is empty.
func (c *Catalogue) Similar(text string, n int) []string {
	word := strings.ReplaceAll(fold(strings.TrimSpace(text)), " ", "-")
	var names, kinds, ids []string
	for _, i := range c.all {
		names, kinds = append(names, i.ID), append(kinds, i.Kind)
	}
	for _, place := range Nearest(word, append(names, kinds...), 2*n) { // of equals an id
		if id := c.all[place%len(c.all)].ID; !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	return ids[:min(n, len(ids))]
}
