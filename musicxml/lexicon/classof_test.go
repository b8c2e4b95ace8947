package lexicon_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml/lexicon"
)

// What the words mean is common knowledge of the five languages (memory).
func TestClassOf(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		words, why string
		want       lexicon.WordClass
	}{
		{"Allegro con brio", "a tempo", lexicon.TempoWords},
		{"poco rit.", "a change of tempo", lexicon.GradualWords},
		{"a tempo", "the tempo again", lexicon.TempoWords},
		{"D.C. al Fine", "where to go on", lexicon.NavigationWords},
		{"pizz.", "how one player plays", lexicon.PlayerWords},
		{"", "nothing", ""},
	} {
		assert.Equal(t, c.want, lexicon.ClassOf(c.words), "%q: %s", c.words, c.why)
	}
}
