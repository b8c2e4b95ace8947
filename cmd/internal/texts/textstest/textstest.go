// Package textstest has the texts of a language. Only tests import it.
package textstest

import (
	"testing"

	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/texts"
	"deskpart/transpose/pitch"
)

// In are the texts of a language.
func In(t testing.TB, l pitch.Language) *texts.Texts {
	t.Helper()
	said, err := texts.In(l)
	require.NoError(t, err)
	return said
}
