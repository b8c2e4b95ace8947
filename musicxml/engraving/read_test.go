package engraving_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/notate"
	"deskpart/musicxml/musicxmltest/shorthand"
)

const (
	wholeRest = `<note><rest measure="yes"/><duration>8</duration></note>`
	quarterC  = `<note><pitch><step>C</step><octave>5</octave></pitch><duration>2</duration><type>quarter</type></note>`
	wholeC    = `<note><pitch><step>C</step><octave>5</octave></pitch><duration>8</duration><type>whole</type></note>`
)

func read(t testing.TB, o notate.Options, measures ...string) *engraving.Music {
	t.Helper()
	m, err := notate.Part(shorthand.Measures(t, measures...), o)
	require.NoError(t, err)
	return m
}
