package engraving_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/notate"
	"deskpart/musicxml/musicxmltest/shorthand"
)

// A cadenza is wider than any line. It is divided where no beam and no tuplet goes on; the
// pieces have all its notes and signs, no barline between them and one number.
func TestSplitBarsWiderThanALine(t *testing.T) {
	t.Parallel()
	note := func(beam string) string {
		return `<note><pitch><step>C</step><octave>5</octave></pitch><duration>1</duration><type>eighth</type><beam number="1">` + beam + `</beam></note>`
	}
	beat := note("begin") + note("continue") + note("end")
	cadenza := direction(`<wedge type="crescendo"/>`) + strings.Repeat(beat, 20) + direction(`<words>dolce</words>`) + strings.Repeat(beat, 20) +
		`<attributes><key><fifths>2</fifths></key></attributes>` + strings.Repeat(beat, 10) + direction(`<wedge type="stop"/>`)
	m := read(t, notate.Options{}, shorthand.WholeC, cadenza, shorthand.WholeC)
	layout, err := engraving.NewLayout(m, engraving.Options{Width: 90})
	require.NoError(t, err)
	split := layout.Split()
	require.Greater(t, len(split.Bars), 4)
	assert.Len(t, m.Bars, 3, "the music is not changed")
	var length musicxml.Fraction
	notes, words, keys := 0, 0, 0
	pieces := split.Bars[1 : len(split.Bars)-1]
	for i, b := range pieces {
		assert.Equal(t, 2, b.Source)
		assert.Equal(t, i == len(pieces)-1, b.Right.Style != engraving.BarNone, "a barline at the end alone")
		assert.Equal(t, i == 0, b.Number == "2")
		measure := &split.Staves[0].Measures[1+i]
		events := measure.Voices[0].Events
		assert.Equal(t, engraving.BeamBegin, events[0].Beams[0])
		assert.Zero(t, events[0].Onset.Sign())
		assert.Equal(t, b.Length, events[len(events)-1].Onset.Add(events[len(events)-1].Duration))
		length, notes, words, keys = length.Add(b.Length), notes+len(events), words+len(measure.Marks), keys+len(measure.Changes)
	}
	assert.Equal(t, m.Bars[1].Length, length)
	assert.Equal(t, []int{150, 1, 1}, []int{notes, words, keys})
	last := len(pieces)
	assert.Equal(t, engraving.Moment{Bar: last, Onset: pieces[last-1].Length}, split.Staves[0].Spanners[0].To)
	d, err := engraving.Draw(split, engraving.Options{Width: 90})
	require.NoError(t, err)
	for _, system := range d.Systems {
		assert.Less(t, float64(system.Width), 95.0)
	}
	layout, err = engraving.NewLayout(read(t, notate.Options{}, shorthand.WholeC, shorthand.WholeC), engraving.Options{Width: 90})
	require.NoError(t, err)
	assert.Len(t, layout.Split().Bars, 2, "bars that fit stay")
}
