package main

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The example does what its text says, with the score that its text names.
func TestShow(t *testing.T) {
	var said, page bytes.Buffer
	require.NoError(t, show("../two-ferries.musicxml", &said, &page))
	assert.Equal(t, `Flute: 29 notes, written perfect unison
Clarinet in B♭: 17 notes, written perfect unison
Horn in F: 16 notes, written perfect unison
Bassoon: 19 notes, written perfect unison
Flute, there and back: identical
Clarinet in B♭, there and back: identical
Horn in F, there and back: identical
Bassoon, there and back: identical
`, said.String(), "a score in written pitch: nothing moves")
	assert.True(t, bytes.HasPrefix(page.Bytes(), []byte("%PDF-1.7")))
	assert.ErrorContains(t, show("nowhere.musicxml", &said, &page), "nowhere.musicxml")
}
