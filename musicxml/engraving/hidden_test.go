package engraving_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/notate"
	"deskpart/musicxml/musicxmltest/shorthand"
)

// TestHiddenStaff: a line has a place for a staff only where that is shown in one of its
// bars, and the bar from which it is shown begins a line.
func TestHiddenStaff(t *testing.T) {
	t.Parallel()
	part := shorthand.Part(t, `2treble <attributes><staff-details number="2" print-object="no"/></attributes> C5:w | D5:w | <attributes><staff-details number="2" print-object="yes"/></attributes> E5:w // C4:w | <attributes><staff-details number="2" print-object="no"/></attributes> F5:w | G5:w`)
	m, err := notate.Part(part, notate.Options{})
	require.NoError(t, err)
	require.Len(t, m.Staves, 2)
	d, err := engraving.Draw(m, engraving.Options{Width: 200})
	require.NoError(t, err)
	var staves []int
	for _, s := range d.Systems {
		staves = append(staves, len(s.Staves))
	}
	assert.Equal(t, []int{1, 2}, staves)
	assert.Equal(t, 3, d.Systems[1].First)
}
