package engraving_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/notate"
	"deskpart/musicxml/musicxmltest/shorthand"
)

func read(t testing.TB, o notate.Options, measures ...string) *engraving.Music {
	t.Helper()
	m, err := notate.Part(shorthand.Measures(t, measures...), o)
	require.NoError(t, err)
	return m
}
