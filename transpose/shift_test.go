package transpose_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// A piccolo's line given to a flute an octave lower: what is written stays and
// what is said of the sound does not (worked by hand: written C5 of a piccolo
// sounds C6; an octave lower that is C5, which a flute reads as C5).
func TestShiftThatLeavesTheNotesSaysTheNewTransposition(t *testing.T) {
	t.Parallel()
	doc, err := musicxml.ParseDocument([]byte(`<part id="P1"><measure number="1"><attributes><divisions>1</divisions>
<transpose><diatonic>0</diatonic><chromatic>0</chromatic><octave-change>1</octave-change></transpose></attributes>
<note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration></note></measure></part>`), musicxml.ReadOptions{})
	require.NoError(t, err)
	timeline, err := musicxml.NewTimeline(doc.Root())
	require.NoError(t, err)
	o := transpose.DefaultOptions()
	o.Stretches = []transpose.Stretch{{Shift: pitch.Octaves(-1)}}
	_, err = transpose.Move(timeline, o)
	require.NoError(t, err)
	assert.Nil(t, doc.FindElement("//transpose"))
	assert.Equal(t, "5", doc.FindElement("//octave").Text())
}
