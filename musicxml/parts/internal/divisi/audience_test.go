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
