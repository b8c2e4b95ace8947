package sharing

import (
	"sync"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/survey"
)

// A stroke that another percussionist has is a hidden rest of the same length: all that a
// rest cannot have goes, a tuplet's bracket and a pause stay (MusicXML 4.0, note).
func TestRest(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ from, want string }{
		{`<note><unpitched/><duration>1</duration><tie type="start"/><instrument id="I"/><voice>1</voice><type>eighth</type><dot/><accidental>sharp</accidental><time-modification/><stem>up</stem>` +
			`<notehead>x</notehead><notehead-text/><staff>1</staff><beam>begin</beam><notations><tied type="start"/><tuplet type="start"/><fermata/><slur/></notations><lyric/><play/><listen/></note>`,
			`<note print-object="no"><rest/><duration>1</duration><voice>1</voice><type>eighth</type><dot/><time-modification/><staff>1</staff><notations><tuplet type="start"/><fermata/></notations></note>`},
		{`<note><pitch/><duration>1</duration><notations><slur/></notations></note>`, `<note print-object="no"><rest/><duration>1</duration></note>`},
	} {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromString(row.from))
		rest(doc.Root())
		text, err := doc.WriteToString()
		require.NoError(t, err)
		assert.Equal(t, row.want, text)
	}
}

var load = sync.OnceValues(instruments.Load)

func flute(t *testing.T) *instruments.Instrument {
	t.Helper()
	catalogue, err := load()
	require.NoError(t, err)
	return catalogue.ByID("flute")
}

// surveyOf is a score of one part without named instruments.
func surveyOf() *survey.Score { return &survey.Score{ScoreParts: make([]musicxml.ScorePart, 1)} }
