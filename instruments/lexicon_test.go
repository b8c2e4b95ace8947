package instruments

import (
	"regexp"
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
	for form, targets := range c.lexicon.strict {
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

// TestAliasesSay: an alias that says nothing new, or that can never be asked for,
// is a slip.
func TestAliasesSay(t *testing.T) {
	t.Parallel()
	c, err := Load()
	require.NoError(t, err)
	for form, targets := range c.lexicon.strict {
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
		for _, id := range []string{i.ID, i.Kind, i.Family, i.Group} {
			assert.Regexp(t, idPattern, id)
		}
		for _, sound := range i.Sounds {
			assert.Regexp(t, soundPattern, sound)
		}
		assert.LessOrEqual(t, len(i.ID), 40)
	}
}
