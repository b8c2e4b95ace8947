package divisi

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Players have several voices where two of them have different ones; "" is none.
func TestVoicesOfPlayers(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		voices playerVoices
		want   bool
	}{
		{nil, false}, {playerVoices{0: "1"}, false}, {playerVoices{0: "1", 1: "1"}, false}, {playerVoices{0: "1", 1: ""}, false}, {playerVoices{0: "", 1: ""}, false},
		{playerVoices{0: "1", 1: "2"}, true}, {playerVoices{0: "", 1: "1", 2: "2"}, true}, {playerVoices{0: "2", 1: "", 2: "1"}, true},
	} {
		for range 20 { // in whatever order they are gone through
			assert.Equal(t, row.want, row.voices.several(), "%v", row.voices)
		}
	}
	assert.True(t, playerVoices{0: "1", 1: "2"}.lists("2"))
	assert.False(t, playerVoices{0: "1", 1: "2"}.lists("3"))
}

// Voices are ordered as numbers where both are numbers, else as text.
func TestOrderOfVoices(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		a, b string
		want bool
	}{{"1", "2", true}, {"2", "1", false}, {"2", "10", true}, {"10", "2", false}, {"1", "1", false}, {"a", "b", true}, {"b", "a", false}, {"10", "a", true}, {"a", "10", false}, {"2", "10a", false}, {"", "1", true}} {
		assert.Equal(t, row.want, voiceBefore(row.a, row.b), "%q before %q", row.a, row.b)
	}
}
