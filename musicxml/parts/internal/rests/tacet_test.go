package rests

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/parts/internal/survey"
)

// Who has nothing to play is told so, where others play; on several staves on the first.
func TestTacetSaid(t *testing.T) {
	t.Parallel()
	const rest, note = `<note><rest measure="yes"/><duration>8</duration></note>`, `<note><pitch><step>C</step><octave>5</octave></pitch><duration>8</duration></note>`
	said := func(staff string) string {
		return `<direction placement="above"><direction-type><words font-weight="bold">Tacet</words></direction-type>` + staff + `</direction>`
	}
	for _, row := range []struct {
		why    string
		bars   []string
		staves int
		plays  bool
		want   string
		tacet  bool
	}{
		{"rests", []string{rest, rest}, 1, true, said(""), true}, {"on two staves", []string{rest}, 2, true, said("<staff>1</staff>"), true}, {"a note", []string{rest, note}, 1, true, "", false}, {"nobody plays", []string{rest}, 1, false, "", false}, {"slashes", []string{rest, `<attributes><measure-style><slash type="start"/></measure-style></attributes>` + rest}, 1, true, "", false}, {"no bars", nil, 1, true, "", true},
	} {
		d := barsOf(t, row.bars...)
		d.Staves, d.Score.Parts = row.staves, make([]survey.Part, 1)
		if row.plays {
			d.Score.Parts[0].Notes = 1
		}
		require.NoError(t, MarkTacet(d), row.why)
		text := ""
		for _, e := range d.Part.FindElements("measure[1]/direction") {
			more, err := etree.NewDocumentWithRoot(e.Copy()).WriteToString()
			require.NoError(t, err)
			text += more
		}
		assert.Equal(t, row.want, text, row.why)
		assert.Equal(t, row.tacet, d.Report.Tacet, row.why)
	}
}
