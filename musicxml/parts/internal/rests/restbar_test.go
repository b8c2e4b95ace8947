package rests

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
)

// A bar of rest is as it should be with one whole-bar rest a staff, shown, where it belongs
// (MusicXML 4.0, rest).
func TestWrittenBarsOfRest(t *testing.T) {
	t.Parallel()
	const whole = `<note><rest measure="yes"/><duration>4</duration></note>`
	for _, row := range []struct {
		bar    string
		staves int
		want   bool
	}{
		{whole, 1, true}, {whole, 2, false}, {whole + `<backup><duration>4</duration></backup>` + whole, 2, true}, {whole + `<backup><duration>4</duration></backup>` + whole, 1, false}, {`<note><rest/><duration>4</duration></note>`, 1, false},
		{`<note print-object="no"><rest measure="yes"/><duration>4</duration></note>`, 1, false}, {`<note><rest measure="yes"><display-step>B</display-step><display-octave>4</display-octave></rest><duration>4</duration></note>`, 1, false},
		{`<note><rest measure="yes"/><duration>3</duration></note>`, 1, false}, {`<note><rest measure="yes"><display-step>B</display-step></rest><duration>4</duration></note>`, 1, false}, {`<forward><duration>4</duration></forward>`, 1, false},
	} {
		timeline, err := musicxml.NewTimeline(musicxmltest.Element(t, `<part><measure><attributes><divisions>1</divisions></attributes>`+row.bar+`</measure></part>`))
		require.NoError(t, err)
		b := &barOfRest{measure: &timeline.Measures[0], length: musicxml.NewFraction(4, 1), staves: row.staves}
		assert.Equal(t, row.want, b.isWritten(), row.bar)
	}
}
