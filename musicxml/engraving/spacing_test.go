package engraving_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/notate"
)

// Notes of two voices stand as far apart in a bar that begins with a new key as in any
// other: what sounds on from before counts in both.
func TestSpacingBehindSigns(t *testing.T) {
	t.Parallel()
	note := func(voice, duration, kind, step string) string {
		return `<note><pitch><step>` + step + `</step><octave>5</octave></pitch><duration>` + duration + `</duration><voice>` + voice + `</voice><type>` + kind + `</type></note>`
	}
	bar := note("1", "2", "quarter", "C") + note("1", "6", "half", "D") + "<backup><duration>8</duration></backup>" +
		note("2", "3", "quarter", "F") + note("2", "3", "quarter", "G") + note("2", "2", "quarter", "A")
	m := read(t, notate.Options{}, bar, bar, "<attributes><key><fifths>2</fifths></key></attributes>"+bar)
	drawing, err := engraving.Draw(m, engraving.Options{Ragged: true, Width: 200})
	require.NoError(t, err)
	require.Len(t, drawing.Systems, 1)
	heads := map[int32][]float64{}
	drawing.Systems[0].Walk(func(item display.Item, _ display.Spaces) {
		if sign, ok := item.Shape.(display.Sign); ok && item.Role == display.RoleHead && item.Owner.Voice == 2 {
			heads[item.Owner.Bar] = append(heads[item.Owner.Bar], float64(sign.At.X))
		}
	})
	for i := 1; i < 3; i++ {
		assert.InDelta(t, heads[2][i]-heads[2][0], heads[3][i]-heads[3][0], 1e-9)
	}
}
