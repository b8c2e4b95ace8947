package header

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What points to an instrument that is not there goes; where the id may be left out, the
// id alone (MusicXML 4.0, midi-device, play).
func TestDropReference(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ from, path, want string }{
		{`<m><note><instrument id="x"/><voice>1</voice></note></m>`, "//instrument", `<m><note><voice>1</voice></note></m>`},
		{`<m><sound><instrument-change id="x"/></sound></m>`, "//instrument-change", `<m/>`},
		{`<m><sound tempo="60"><instrument-change id="x"/></sound></m>`, "//instrument-change", `<m><sound tempo="60"/></m>`},
		{`<m><sound><midi-device id="x" port="1"/></sound></m>`, "//midi-device", `<m><sound><midi-device port="1"/></sound></m>`},
		{`<m><note><play id="x"><ipa/></play></note></m>`, "//play", `<m><note><play><ipa/></play></note></m>`},
	} {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromString(row.from))
		dropReference(doc.FindElement(row.path))
		text, err := doc.WriteToString()
		require.NoError(t, err)
		assert.Equal(t, row.want, text)
	}
}

// The score's own names for itself, whatever stands round them; a title that holds such a
// word is none of them.
func TestScoreLabels(t *testing.T) {
	t.Parallel()
	for _, label := range []string{
		"Score", "FULL SCORE", "(Transposed Score)", "Score in C", "Concert Pitch", "Score at concert pitch", "Conductor's Score", "Partitur", "Klingende Partitur", "Direktion",
		"Partition d'orchestre", "Conducteur", "Partition en ut", "Partitura", "Suoni reali", "Guion", "Partition transposée", "study score", "Dirigierpartitur",
	} {
		assert.True(t, isScoreLabel(label), label)
	}
	for _, text := range []string{"", "  ", "Scored for two", "Score a goal", "The Conductor's Lament", "Partitur und Stimmen von Anna"} {
		assert.False(t, isScoreLabel(text), text)
	}
	for from, want := range map[string]string{
		"Dances - Score in C": "Dances", "Dances – Partitur": "Dances", "Dances — Guion": "Dances", "Dances, full score": "Dances", "Dances; score": "Dances", "Dances: Score": "Dances",
		"Dances (Conducteur)": "Dances", "Dances / Partitura": "Dances", "Dances - for band": "Dances - for band", "Score": "Score", "Dances - Suite - Score": "Dances - Suite",
	} {
		assert.Equal(t, want, withoutScoreLabel(from), from)
	}
}
