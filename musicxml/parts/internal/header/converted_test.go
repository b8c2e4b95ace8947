package header

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/parts/plan"
)

// A score says that it is in concert pitch among its defaults (MusicXML 4.0, concert-score),
// and no longer does once it is not; defaults that would say nothing go.
func TestSayPitch(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		concert    bool
		from, want string
	}{
		{true, `<part-list/>`, `<defaults><concert-score/></defaults><part-list/>`}, {true, `<defaults><scaling/></defaults>`, `<defaults><scaling/><concert-score/></defaults>`},
		{true, `<defaults><concert-score/></defaults>`, `<defaults><concert-score/></defaults>`}, {false, `<defaults><concert-score/></defaults><part-list/>`, `<part-list/>`},
		{false, `<defaults><scaling/><concert-score/></defaults>`, `<defaults><scaling/></defaults>`}, {false, `<part-list/>`, `<part-list/>`},
	} {
		doc := etree.NewDocument()
		assert.NoError(t, doc.ReadFromString(`<score-partwise>`+row.from+`</score-partwise>`))
		sayPitch(doc.Root(), row.concert)
		text, err := doc.WriteToString()
		assert.NoError(t, err)
		assert.Equal(t, `<score-partwise>`+row.want+`</score-partwise>`, text)
	}
}

// A part that stood at sounding pitch without a word is marked for the way back, unless its
// entry says something of its own; on the way back the mark goes.
func TestSayStoodAtSound(t *testing.T) {
	t.Parallel()
	const mark = `<identification><miscellaneous><miscellaneous-field name="source pitch">sounding</miscellaneous-field></miscellaneous></identification>`
	const own = `<identification><rights>free</rights></identification>`
	for _, row := range []struct {
		concert, atSound bool
		from, want       string
	}{
		{true, true, ``, mark}, {true, false, ``, ``}, {false, true, ``, ``}, {true, true, own, own}, {false, false, mark, ``}, {true, false, mark, mark}, {false, false, own, own},
	} {
		doc := etree.NewDocument()
		assert.NoError(t, doc.ReadFromString(`<score-partwise><part-list><score-part id="P0"/><score-part id="P1">`+row.from+`<part-name/></score-part></part-list></score-partwise>`))
		c := &survey.Score{ScoreParts: []musicxml.ScorePart{{ID: "P1", Element: doc.FindElement("//score-part[@id='P1']").Copy()}}}
		sayStoodAtSound(c, doc.Root(), row.concert, []bool{row.atSound})
		text, err := doc.WriteToString()
		assert.NoError(t, err)
		assert.Equal(t, `<score-partwise><part-list><score-part id="P0"/><score-part id="P1">`+row.want+`<part-name/></score-part></part-list></score-partwise>`, text)
	}
}

// The part is headed with its own name, shown as a name is; nothing of the score's stays.
func TestName(t *testing.T) {
	t.Parallel()
	doc := etree.NewDocument()
	assert.NoError(t, doc.ReadFromString(`<score-part id="P1"><part-name print-object="no">Ob.</part-name><part-name-display><display-text>Ob.</display-text></part-name-display></score-part>`))
	(&maker{Draft: &draft.Draft{Assignment: assign.Assignment{Assignment: plan.Assignment{Label: "Oboe"}}}}).name(doc.Root())
	text, err := doc.WriteToString()
	assert.NoError(t, err)
	assert.Equal(t, `<score-part id="P1"><part-name>Oboe</part-name></score-part>`, text)
}
