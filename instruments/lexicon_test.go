package instruments

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestPreferences: a word that names several instruments must prefer one in
// aliases.csv, so that the choice is somebody's and not the order of the rows; two
// only where accents or spaces tell them apart ("Basse", "Bässe").
func TestPreferences(t *testing.T) {
	t.Parallel()
	c, err := Load()
	require.NoError(t, err)
	for form, targets := range allStrict(c) {
		always := filter(targets, target.always)
		preferred := filter(always, func(t target) bool { return t.when == whenFirst })
		if len(always) < 2 {
			continue
		}
		if !assert.NotEmpty(t, preferred, "%q names several instruments, none preferred: %v", form, always) {
			continue
		}
		for _, other := range preferred[1:] {
			assert.NotEqual(t, preferred[0].spellings, other.spellings, "%q prefers two", form)
		}
	}
}

// allStrict reads every name and returns what the strict forms mean.
func allStrict(c *Catalogue) map[string][]target {
	all := map[string][]target{}
	for _, e := range c.lexicon.names {
		form := strictForm(tokenize(e.name))
		all[form] = c.lexicon.strictly(form)
	}
	return all
}

// TestLetterSums: a name must come to the sum of its every form, or it would not be
// found.
func TestLetterSums(t *testing.T) {
	t.Parallel()
	c, err := Load()
	require.NoError(t, err)
	assert.Greater(t, len(c.lexicon.names), 3000)
	for _, e := range c.lexicon.names {
		tokens := tokenize(e.name)
		require.LessOrEqual(t, len(tokens), c.lexicon.longest)
		if _, words, simple := c.lexicon.simpleLetters(e.name); simple {
			require.Len(t, tokens, words, e.name)
		}
		means := func(targets []target) bool {
			return len(filter(targets, func(t target) bool { return t.kind == e.kind && t.id == e.id })) > 0
		}
		require.True(t, means(c.lexicon.strictly(strictForm(tokens))), e.name)
		require.True(t, means(c.lexicon.named(looseForm(tokens))), e.name)
		require.True(t, len(tokens) < 2 || means(c.lexicon.inAnyOrder(setForm(tokens))), e.name)
	}
}

// TestUnknownWordsAreNotKept: scores say any number of words over the staves.
func TestUnknownWordsAreNotKept(t *testing.T) {
	t.Parallel()
	c, err := Load()
	require.NoError(t, err)
	c.Match(Query{Name: "Flute"})
	read := len(c.lexicon.read)
	assert.Positive(t, read)
	for n := range 100 {
		c.Match(Query{Name: "qzqzqz" + strings.Repeat("q", n)})
	}
	assert.Len(t, c.lexicon.read, read)
}

// TestAliasesSay: an alias that says nothing new, or that can never be asked for,
// is a slip.
func TestAliasesSay(t *testing.T) {
	t.Parallel()
	c, err := Load()
	require.NoError(t, err)
	for form, targets := range allStrict(c) {
		assert.NotEmpty(t, form)
		for _, found := range targets {
			assert.NotEmpty(t, found.languages, form)
			assert.NotEmpty(t, c.byKind[found.kind], form)
			if found.when == whenKey {
				assert.NotEmpty(t, c.usual(found.kind).Key, "%s: %s has no key to be chosen by", form, found.kind)
			}
		}
	}
}

var (
	idPattern    = regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	soundPattern = regexp.MustCompile(`^[a-z-]+(\.[a-z0-9-]+)+$`)
)

// TestIdentifiers: ids are plain enough for file names, flags and spreadsheets.
func TestIdentifiers(t *testing.T) {
	t.Parallel()
	c, err := Load()
	require.NoError(t, err)
	for _, i := range c.all {
		for _, id := range []string{i.ID, i.Kind, i.Family, string(i.Group)} {
			assert.Regexp(t, idPattern, id)
		}
		for _, sound := range i.Sounds {
			assert.Regexp(t, soundPattern, sound)
		}
		assert.LessOrEqual(t, len(i.ID), 40)
	}
}
