package instruments_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/transpose/pitch"
)

// TestLabel: the key stands where the trade says it (instrument-names.csv), in each
// language's own words.
func TestLabel(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, test := range []struct{ id, language, number, want, why string }{
		{"clarinet-bflat", "en", "1", "Clarinet in B♭ 1", "contract.md"},
		{"clarinet-bflat", "de", "1", "Klarinette in B 1", "German B is B flat"},
		{"clarinet-bflat", "fr", "1", "Clarinette en si♭ 1", "French en, syllable"},
		{"clarinet-bflat", "it", "1", "Clarinetto in Si♭ 1", "Italian in"},
		{"clarinet-bflat", "es", "1", "Clarinete en Si♭ 1", "Spanish en"},
		{"clarinet-b", "de", "", "Klarinette in H", "German H is B natural"},
		{"clarinet-b", "en", "", "Clarinet in B", "English B is B natural"},
		{"clarinet-eflat", "de", "", "Klarinette in Es", "rgsmith-horn"},
		{"clarinet-aflat", "de", "", "Klarinette in As", "rgsmith-horn"},
		{"clarinet-c", "fr", "", "Clarinette en ut", "instrument-names.csv: ut or do"},
		{"clarinet-a", "fr", "2", "Clarinette en la 2", "syllable"},
		{"flute", "en", "2", "Flute 2", "no key for a flute"},
		{"flute", "en", "", "Flute", "no number"},
		{"piccolo", "de", "", "Kleine Flöte", "instrument-names.csv"},
		{"piccolo-dflat", "en", "", "Piccolo in D♭", "the unusual key is said"},
		{"alto-flute-g", "fr", "", "Flûte alto en sol", "instrument-names.csv"},
		{"english-horn", "en", "", "English Horn", "one key, not said"},
		{"alto-saxophone-eflat", "en", "1", "Alto Saxophone 1", "instrument-names.csv: without key"},
		{"soprano-saxophone-c", "en", "", "Soprano Saxophone in C", "the unusual key is said"},
		{"horn-f", "en", "3,4", "Horns in F 3, 4", "two players on one part"},
		{"horn-eflat", "de", "1,2", "Hörner in Es 1, 2", "German plural"},
		{"horn-fsharp", "de", "", "Horn in Fis", "German suffix"},
		{"horn-dflat", "de", "", "Horn in Des", "German suffix"},
		{"horn-bflat-basso", "en", "1", "Horn in B♭ basso 1", "the register belongs to the key"},
		{"horn-bflat-basso", "de", "1", "Horn in tief B 1", "instrument-names.csv: tief"},
		{"horn-bflat-alto", "de", "", "Horn in hoch B", "instrument-names.csv: hoch"},
		{"horn-bflat-basso", "fr", "", "Cor en si♭ grave", "instrument-names.csv: grave"},
		{"horn-bflat-basso", "it", "", "Corno in Si♭ basso", "instrument-names.csv: basso"},
		{"horn-bflat-basso", "es", "", "Trompa en Si♭ grave", "instrument-names.csv: grave"},
		{"horn-c-basso", "en", "", "Horn in C", "a horn in C is the low one unless it says alto"},
		{"horn-f-old-bass", "en", "", "Horn in F", "the player's part says no more"},
		{"brass-band-bass-eflat", "en", "", "Bass in E♭", "brass band"},
		{"timpani", "it", "", "Timpani", "instrument-names.csv"},
		{"clarinet-bflat", "pt", "", "Clarinet in B♭", "an unknown language is taken as English"},
	} {
		t.Run(test.id+" "+test.language, func(t *testing.T) {
			assert.Equal(t, test.want, c.ByID(test.id).Label(pitch.Language(test.language), test.number), test.why)
		})
	}
}

func TestTitleTellsNotationsApart(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	assert.Equal(t, "Horn in F (bass clef, old notation)", c.ByID("horn-f-old-bass").Title("en"))
	assert.Equal(t, "Horn in F", c.ByID("horn-f").Title("en"))
	assert.Equal(t, "Cl. 1", c.ByID("clarinet-a").ShortLabel("en", "1"))
	assert.Equal(t, "Klar.", c.ByID("clarinet-a").Abbreviation("de"))
}

// TestMatchLabel keeps what tells one brass-band part from the next.
func TestMatchLabel(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, test := range []struct{ name, language, want, why string }{
		{"Solo Cornet", "en", "Solo Cornet in B♭", "the qualifier stays"},
		{"Repiano Cornet", "en", "Repiano Cornet in B♭", "the qualifier stays"},
		{"Solo Cornet", "de", "Kornett in B Solo", "after the name but in English"},
		{"Violin Solo", "en", "Solo Violin", "one order for all"},
		{"2. Klarinette in A", "en", "Clarinet in A 2", "translated"},
		{"Part 1", "en", "", "nothing recognised"},
	} {
		assert.Equal(t, test.want, c.Match(instruments.Query{Name: test.name}).Label(pitch.Language(test.language)), test.why)
	}
}

// TestDescribe: the English wording is held against the trade's table row by row in
// TestTradeTranspositions; here are the other languages, worded by hand.
func TestDescribe(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, test := range []struct{ id, language, want, why string }{
		{"clarinet-bflat", "en", "sounds a major second lower than written", "major second"},
		{"clarinet-bflat", "de", "klingt eine große Sekunde tiefer als notiert", "große Sekunde"},
		{"clarinet-bflat", "fr", "sonne une seconde majeure plus bas que la note écrite", "quality after the interval"},
		{"clarinet-bflat", "it", "suona una seconda maggiore sotto la nota scritta", "quality after the interval"},
		{"clarinet-bflat", "es", "suena una segunda mayor por debajo de lo escrito", "quality after the interval"},
		{"piccolo", "en", "sounds an octave higher than written", "no quality"},
		{"piccolo", "it", "suona un'ottava sopra la nota scritta", "elision"},
		{"piccolo", "de", "klingt eine Oktave höher als notiert", "no quality"},
		{"horn-fsharp", "fr", "sonne une quinte diminuée plus bas que la note écrite", "diminished"},
		{"contrabass-clarinet-bflat", "de", "klingt zwei Oktaven und eine große Sekunde tiefer als notiert", "beyond a thirteenth"},
		{"baritone-saxophone-eflat", "es", "suena una decimotercera mayor por debajo de lo escrito", "thirteenth"},
		{"garklein-recorder", "es", "suena dos octavas por encima de lo escrito", "octaves alone"},
		{"flute", "it", "suona come è scritto", "not transposing"},
		{"snare-drum", "de", "ohne bestimmte Tonhöhe", "unpitched"},
		{"flute", "xx", "sounds as written", "an unknown language is taken as English"},
	} {
		assert.Equal(t, test.want, c.ByID(test.id).Describe(pitch.Language(test.language)), test.why)
	}
}
