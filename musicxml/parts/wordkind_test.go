package parts_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml/parts"
)

// What the words mean is common knowledge of the five languages (memory).
func TestKindOfWords(t *testing.T) {
	for _, c := range []struct {
		words, why string
		want       parts.WordKind
	}{
		{"Allegro con brio", "a tempo", parts.TempoWords},
		{"poco rit.", "a change of tempo", parts.TempoWords},
		{"a tempo", "the tempo again", parts.TempoWords},
		{"D.C. al Fine", "where to go on", parts.RoadWords},
		{"pizz.", "how one player plays", parts.OtherWords},
		{"", "nothing", parts.OtherWords},
	} {
		assert.Equal(t, c.want, parts.KindOfWords(c.words), "%q: %s", c.words, c.why)
	}
}
