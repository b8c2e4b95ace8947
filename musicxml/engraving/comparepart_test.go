package engraving_test

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/notate"
)

// comparePart draws a part, reads it back and compares bar by bar. It returns the
// number of notes.
func comparePart(t *testing.T, part *etree.Element, file, id string) (notes int) {
	t.Helper()
	m, err := notate.Part(part, notate.Options{RestBars: 2})
	require.NoError(t, err, file)
	d, err := engraving.Draw(m, engraving.Options{})
	require.NoError(t, err, file)
	got := pitchesIn(t, d)
	for key, want := range pitchesOf(m) {
		notes += len(want)
		if file == oneBar.file && id == oneBar.part && key[1] == oneBar.bar {
			continue
		}
		assert.Equal(t, want, got[key], "%s %s staff %d, measure %d", file, id, key[0]+1, key[1])
	}
	return notes
}
