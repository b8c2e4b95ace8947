package header

import (
	"strings"
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
		{`<m><note><instrument id="x"/></note></m>`, "//instrument", `<m><note/></m>`},
		{`<m><sound id="s"><instrument-change id="x"/><swing><straight/></swing></sound></m>`, "//instrument-change", `<m><sound id="s"><swing><straight/></swing></sound></m>`},
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
		"Full Score in C", "Full score (transposed)", "Transposed full score", "Score and parts", "Conductor", "Conductors Score", "Miniature Score", "Pocket score", "Condensed Score", "Short score", "Concert score", "C Score",
		"Score C", "Score in Concert Pitch", "Concert Pitch Score", "Score at sounding pitch", "Sounding pitch", "Transposing score", "Score (transposed)", "Orchestral score", "Orchestra Score", "Band Score", "Choral Score", "Vocal Score",
		"Partitur in C", "Studienpartitur", "Taschenpartitur", "Partitur, klingend", "Transponierende Partitur", "Transponierte Partitur", "Partitur (transponiert)", "Direktionsstimme", "Klangnotation",
		"Partition", "Conducteur en ut", "Partition en do", "Partition générale", "Grande partition", "Partitura in do", "Partitura en do", "Partitura general", "Partitura generale", "Partitura in suoni reali", "Partitura traspositrice",
		"Partitura transpuesta", "Partitura in ut", "Particella", "Partitura completa", "Director",
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

// A name with signs is written a second time with its accidentals as such, any other once
// (MusicXML 4.0, part-name-display).
func TestNameDisplay(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]string{
		"Oboe": "", "Clarinet in B♭": `<display-text>Clarinet in B</display-text><accidental-text>flat</accidental-text>`,
		"Horn in F♯ basso": `<display-text>Horn in F</display-text><accidental-text>sharp</accidental-text><display-text> basso</display-text>`,
		"♮A":               `<accidental-text>natural</accidental-text><display-text>A</display-text>`, "Clarinet in B♭/A": `<display-text>Clarinet in B</display-text><accidental-text>flat</accidental-text><display-text>/A</display-text>`,
	} {
		e := nameDisplay("part-name-display", name)
		if want == "" {
			assert.Nil(t, e, name)
			continue
		}
		text, err := etree.NewDocumentWithRoot(e).WriteToString()
		require.NoError(t, err)
		assert.Equal(t, "<part-name-display>"+want+"</part-name-display>", text)
	}
}

// What a file claims of itself stays where the part bears it out: breaks of the score are
// gone, an element that is claimed not to be used must not be there (MusicXML 4.0, supports).
func TestClaims(t *testing.T) {
	t.Parallel()
	used := &references{tags: map[string]bool{"beam": true, "print": true}}
	for claim, want := range map[string]bool{
		`<supports element="print" attribute="new-system" type="yes"/>`: false, `<supports element="print" attribute="new-page" type="yes"/>`: false, `<supports element="print" attribute="blank-page" type="yes"/>`: true,
		`<supports element="print" type="yes"/>`: true, `<supports element="beam" type="yes"/>`: true, `<supports element="stem" attribute="new-page" type="yes"/>`: true,
		`<supports element="beam" type="no"/>`: false, `<supports element="stem" type="no"/>`: true, `<supports element="print" attribute="new-page" type="no"/>`: true,
	} {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromString(claim))
		assert.Equal(t, want, used.stillTrue(doc.Root()), claim)
	}
}

// Lengths are written with two decimals at most; numbers that are none are 0.
func TestNumbers(t *testing.T) {
	t.Parallel()
	for n, want := range map[float64]string{0: "0", 80: "80", 53.3333: "53.33", 1.005: "1.01", 1.004: "1", -2.5: "-2.5", 1440.0: "1440", 0.126: "0.13"} {
		assert.Equal(t, want, formatNumber(n))
	}
	for text, want := range map[string]float64{"": 0, "x": 0, "NaN": 0, "Inf": 0, "-Inf": 0, "12.5": 12.5, "-3": -3, "1e3": 1000} {
		assert.Equal(t, want, number(text), text)
	}
}

// A converted score says that it is in concert pitch, once, or does not (MusicXML 4.0,
// concert-score); what then is empty goes.
func TestConcertScoreIsSaid(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		from    string
		concert bool
		want    string
	}{
		{`<s><part-list/></s>`, true, `<s><defaults><concert-score/></defaults><part-list/></s>`}, {`<s><defaults><concert-score/></defaults></s>`, true, `<s><defaults><concert-score/></defaults></s>`},
		{`<s><defaults><scaling/><appearance/></defaults></s>`, true, `<s><defaults><scaling/><concert-score/><appearance/></defaults></s>`},
		{`<s><part-list/></s>`, false, `<s><part-list/></s>`}, {`<s><defaults><concert-score/></defaults><part-list/></s>`, false, `<s><part-list/></s>`},
		{`<s><defaults><scaling/><concert-score/></defaults></s>`, false, `<s><defaults><scaling/></defaults></s>`},
	} {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromString(strings.NewReplacer("<s>", "<score-partwise>", "</s>", "</score-partwise>").Replace(row.from)))
		sayPitch(doc.Root(), row.concert)
		text, err := doc.WriteToString()
		require.NoError(t, err)
		assert.Equal(t, row.want, strings.NewReplacer("<score-partwise>", "<s>", "</score-partwise>", "</s>").Replace(text))
	}
}
