package shorthand

import (
	"testing"

	"github.com/stretchr/testify/require"

	"deskpart/transpose/pitch"
)

// Pitch reads a pitch such as "F#4".
func Pitch(t testing.TB, text string) pitch.Pitch {
	t.Helper()
	p, err := pitch.Parse(text)
	require.NoError(t, err)
	return p
}
