package parts_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
	"deskpart/transpose/pitch"
)

// TestChoir: a vocal score of all singers has a staff for each voice, also of voices
// that never sing at once, with words below and dynamics above (part-preparation, 2);
// instruments keep their parts.
func TestChoir(t *testing.T) {
	t.Parallel()
	score := shorthand.Score(t,
		shorthand.Entry{Name: "Flute", Music: `C6:w | C6:w`},
		shorthand.Entry{Name: "Soprano", Music: `!p C5:h'la' D5:h'lo' | R`},
		shorthand.Entry{Name: "Alto", Music: `R | !f G4:w'lu'`},
		shorthand.Entry{Name: "Bass", Music: `bass C3:w'la' | D3:w'lo'`})
	o := parts.DefaultOptions()
	o.Choir, o.Language = parts.ChoirScore, pitch.German
	made := makePartsOf(t, scoreIn(t, score), o)
	require.Len(t, made, 2)
	assert.Equal(t, "Flöte", made[0].name)
	assert.Equal(t, "Chor", made[1].name)
	choir := made[1].part
	assert.Equal(t, "3", choir.FindElement("//staves").Text())
	assert.Equal(t, "bracket", choir.FindElement("//part-symbol").Text())
	assert.Len(t, choir.FindElements("//pitch"), 5, "every voice")
	for i := range partstest.Job(t, scoreIn(t, score), o).Assignments() {
		assert.Empty(t, makeMini(t, scoreIn(t, score), i, o).Report.Warnings, "singers sing at once")
	}
	var names []string
	for _, words := range choir.FindElements("measure[1]//words") {
		names = append(names, words.Text())
	}
	assert.Equal(t, []string{"Sopran", "Alt", "Bass"}, names)
	for _, lyric := range choir.FindElements("//lyric") {
		assert.Equal(t, "below", lyric.SelectAttrValue("placement", ""))
	}
	dynamics := choir.FindElements("//dynamics")
	require.Len(t, dynamics, 2)
	for _, d := range dynamics {
		assert.Equal(t, "above", d.Parent().Parent().SelectAttrValue("placement", ""))
	}

	o.Choir = parts.ChoirParts
	made = makePartsOf(t, scoreIn(t, score), o)
	require.Len(t, made, 4)
	assert.Equal(t, "above", made[1].part.FindElement("//dynamics").Parent().Parent().SelectAttrValue("placement", ""))
	o.Choir = "both"
	_, err := parts.Survey(scoreIn(t, score), instrumentstest.Load(t), o)
	assert.ErrorContains(t, err, "choir")
}
