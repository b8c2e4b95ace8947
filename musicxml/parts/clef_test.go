package parts_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
)

// Expected clefs are worked by hand from trade/notation-rules.md, section 8; the
// pitches from the instrument's transposition (trade/transpositions.csv); stems
// from section 9.
func TestClefsOfThePart(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, why        string
		part             string // its name in the score
		instrument, clef string // of the plan
		music, want      string
	}{
		{"bass clarinet", "back to treble from the concert score's bass clef; C3 is written a ninth higher",
			"Bass Clarinet in Bb", "", "",
			"bass C3↓ D3↓ E3↓ F3↓ | G3↓ A3↓ B3↓ C4↓",
			"treble D4↑ E4↑ F#4↑ G4↑ | A4↑ B4↓ C#5↓ D5↓"},
		{"baritone saxophone", "C3 is written an octave and a sixth higher, A4",
			"Baritone Saxophone", "", "",
			"bass C3↑ r:h r treble G3↑",
			"treble A4↑ r r E5↓"},
		{"mid-bar changes of the concert score go", "the alto saxophone reads one clef",
			"Alto Saxophone", "", "",
			"bass C3 treble C4 bass C3 treble C4 | C4:w",
			"treble A3 A4 A3 A4 | A4"},
		{"horn low notes", "the written G2 to C3 need four ledger lines and more below treble, a stretch of two bars: bass clef, at the barlines; G4 needs it no more",
			"Horn in F", "", "",
			"treble C4↓ C4↓ C4↓ C4↓ | bass F2 F2 E2 E2 | D2 D2 C2 C2 | treble C4 C4 C4 C4",
			"treble G4↑ G4↑ G4↑ G4↑ | bass C3 C3 B2 B2 | A2 A2 G2 G2 | treble G4 G4 G4 G4"},
		{"one low note is read", "C3 in treble, four ledger lines for one beat: no clef change for that",
			"Horn in F", "", "",
			"treble C4 C4 F2 C4 | C4:w",
			"treble G4 G4 C3 G4 | G4"},
		{"bass clef of the concert score needless after the fifth up", "F3 to C4 become C4 to G4",
			"Horn in F", "", "",
			"bass F3 G3 A3 C4 | F3:w",
			"treble C4 D4 E4 G4 | C4"},
		{"an edition is not second-guessed", "five ledger lines above bass clef, but nothing moved",
			"Violoncello", "", "",
			"bass C5 C5 C5 C5 | C5 C5 C5 C5 | tenor C5:w | bass C3:w",
			"bass C5 C5 C5 C5 | C5 C5 C5 C5 | tenor C5 | bass C3"},
		{"cello given a viola's part", "alto is none of its clefs; the high passage stands in treble, with the change at the barline",
			"Viola", "cello", "",
			"alto C3 D3 E3 F3 | G3:w | C6 C6 C6 C6 | C6 B5 A5 G5 | C3:w | C3:w",
			"bass C3 D3 E3 F3 | G3 | treble C6 C6 C6 C6 | C6 B5 A5 G5 | bass C3 | C3"},
		{"never in a slur", "the slur over the barline holds low C2 and high C5 together, so the change waits for the next bar",
			"Viola", "bassoon", "",
			"alto C2 D2 E2 F2 | C2:h C2:h( | C5:w) | C5 C5 D5 D5 | D5:w | C2:w | C2:w | C2:w",
			"bass C2 D2 E2 F2 | C2 C2 | C5 | tenor C5 C5 D5 D5 | D5 | bass C2 | C2 | C2"},
		{"never in a tie", "the tied C5 begins before the barline; the change stands after the rest before it",
			"Viola", "bassoon", "",
			"alto C2 D2 E2 F2 | C2:h r C5~ | C5 C5 D5 D5 | D5:w | C2:w | C2:w | C2:w",
			"bass C2 D2 E2 F2 | C2 r tenor C5 | C5 C5 D5 D5 | D5 | bass C2 | C2 | C2"},
		{"never in a beam", "the beam goes over the barline: the change comes where it ends",
			"Viola", "bassoon", "",
			"alto C2 D2 E2 F2 | C2:h C2 C2:e C2:e{ | C5:e} C5:e C5 D5 D5 | D5:w | C2:w | C2:w | C2:w",
			"bass C2 D2 E2 F2 | C2 C2 C2 C2{ | C5} tenor C5 C5 D5 D5 | D5 | bass C2 | C2 | C2"},
		{"tenor voice keeps its small 8", "treble-8vb is how the edition counts octaves",
			"Tenor", "", "",
			"treble-8vb C4↓ D4↓", "treble-8vb C4↓ D4↓"},
		{"tenor voice in plain treble clef", "the same clef without the 8",
			"Tenor", "", "",
			"treble C4↑", "treble C4↑"},
		{"guitar keeps its small 8", "octave clefs are understood",
			"Guitar", "", "",
			"treble-8vb E3↑ C4↓", "treble-8vb E3↑ C4↓"},
		{"a contrabassoon's bass clef with an 8", "",
			"Contrabassoon", "", "",
			"bass-8vb C2↑ D2↓", "bass-8vb C2↑ D2↓"},
		{"soprano clef", "the edition's old clef is none that a soprano reads today; treble takes its place, and C4 stands lower",
			"Soprano", "", "",
			"soprano E4↓ C5↓ | A4:w↓", "treble E4↑ C5↓ | A4↑"},
		{"baritone clef in a bassoon part", "only the foreign clef goes; C4 and F4 read best in bass, G4 at its own tenor",
			"Bassoon", "", "",
			"bass C3↑ F3↓ | baritone D3↓ F3↓ | tenor G4↓ C4↓", "bass C3↑ F3↓ | D3↓ F3↓ | tenor G4↓ C4↓"},
		{"a foreign clef over a long high note", "four quarters with four ledger lines are worth the player's own tenor clef",
			"Bassoon", "", "",
			"bass C3:w | baritone C5:w | bass C3:w", "bass C3 | tenor C5 | bass C3"},
		{"a foreign clef over a short high note", "one quarter is read",
			"Bassoon", "", "",
			"bass C3:w | baritone C5 r r:h | bass C3:w", "bass C3 | C5 r r | C3"},
		{"percussion clef", "unpitched notes keep their place",
			"Snare Drum", "", "",
			"percussion u!C5↑ u!C5↑", "percussion u!C5↑ u!C5↑"},
		{"tablature", "kept beside the notes of the same player",
			"Guitar", "", "",
			"treble C4 TAB C4 treble C4", "treble C4 TAB C4 treble C4"},
		{"plan with a clef", "the plan's clef through the whole part",
			"Violoncello", "", "tenor",
			"bass C3↑ C4↓ | tenor C4↓", "tenor C3↑ C4↓ | C4↓"},
		{"plan with two clefs", "the first is the usual one",
			"Violoncello", "", "bass; treble",
			"bass C3↑ | tenor C4↓", "bass C3↑ | C4↓"},
		{"no clef", "treble is meant (test suite 12b), which a trombone does not read",
			"Trombone", "", "",
			"C4 C3", "bass C4 C3"},
		{"unknown part", "nothing is known against its clefs",
			"Theremophone", "", "",
			"mezzo C4↑ baritone C3↑", "mezzo C4↑ baritone C3↑"},
		{"silent part", "the player's clef all the same",
			"Bass Clarinet in Bb", "", "",
			"bass r:w | r:w", "treble r | r"},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			made := handedTo(t, scoreOf(t, row.part, music(t, row.music)), row.instrument, row.clef)
			assert.Equal(t, row.want, shorthand.ReadStaff(made.part), row.why)
		})
	}
}

// The clefs that a concert score says for its parts (MusicXML 4.0, for-part; the
// bass clarinet as in the standard's own example: treble, −1 −2 −1).
func TestClefsOfForPart(t *testing.T) {
	t.Parallel()
	const (
		concert   = `<defaults><concert-score/></defaults>`
		treble    = `<part-clef><sign>G</sign><line>2</line></part-clef>`
		bass      = `<part-clef><sign>F</sign><line>4</line></part-clef>`
		ninth     = `<part-transpose><diatonic>-1</diatonic><chromatic>-2</chromatic><octave-change>-1</octave-change></part-transpose>`
		second    = `<part-transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></part-transpose>`
		fifth     = `<part-transpose><diatonic>-4</diatonic><chromatic>-7</chromatic></part-transpose>`
		attribute = `<attributes><for-part>`
		end       = `</for-part></attributes>`
	)
	for _, row := range []struct{ name, why, part, music, want string }{
		{"treble", "the score's bass clef is the conductor's", "Bass Clarinet in Bb",
			"bass " + attribute + treble + ninth + end + " C3↓ D3↓ | E3:w", "treble D4↑ E4↑ | F#4"},
		{"bass, as German parts have it", "the score's own choice goes before the catalogue's", "Bass Clarinet in Bb",
			"bass " + attribute + bass + second + end + " C3↑ D3↓ | E3:w", "bass D3↓ E3↓ | F#3"},
		{"changes in mid-part", "each <part-clef> holds from its place on", "Bass Clarinet in Bb",
			"bass " + attribute + bass + ninth + end + " C3 D3 | " + attribute + treble + ninth + end + " C3 D3",
			"bass D4 E4 | treble D4 E4"},
		{"said clef of several", "the horn reads bass clef too: two bars of G2 and lower go there", "Horn in F",
			"bass " + attribute + treble + fifth + end + " F4:w | D2:w | C2:w | F4:w",
			"treble C5 | bass A2 | G2 | treble C5"},
		{"transposition alone", "without <part-clef> the instrument's own", "Bass Clarinet in Bb",
			"bass " + attribute + ninth + end + " C3 D3", "treble D4 E4"},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			made := handedTo(t, scoreOf(t, row.part, music(t, row.music), concert), "", "")
			assert.Equal(t, row.want, shorthand.ReadStaff(made.part), row.why)
			assert.Nil(t, made.part.FindElement(".//for-part"))
		})
	}
}

// What is said at a clef stays while the clef stays (MusicXML 4.0, clef).
func TestClefAttributesAndPlaces(t *testing.T) {
	t.Parallel()
	const afterBarline = `<attributes><clef after-barline="yes"><sign>F</sign><line>4</line></clef></attributes>`
	const cue = `<attributes><clef additional="yes" size="cue"><sign>F</sign><line>4</line></clef></attributes>`

	t.Run("kept with the edition", func(t *testing.T) {
		t.Parallel()
		made := ownPart(t, "Violoncello", "tenor C4:w | "+afterBarline+" C3:w | "+cue+" C3:w")
		assert.NotNil(t, made.part.FindElement("measure[2]/attributes/clef[@after-barline='yes']"))
		assert.NotNil(t, made.part.FindElement("measure[3]/attributes/clef[@size='cue']"))
	})
	t.Run("kept where a chosen clef stands in the same place", func(t *testing.T) {
		t.Parallel()
		made := ownPart(t, "Horn in F", "treble F4:w | "+afterBarline+" D2:w | C2:w")
		require.Equal(t, "treble C5 | bass A2 | G2", shorthand.ReadStaff(made.part))
		assert.NotNil(t, made.part.FindElement("measure[2]/attributes/clef[@after-barline='yes']"))
	})
	t.Run("an additional clef is in no force and stays", func(t *testing.T) {
		t.Parallel()
		made := ownPart(t, "Horn in F", "treble C4:w | "+cue+" C4:w")
		assert.NotNil(t, made.part.FindElement("measure[2]/attributes/clef[@additional='yes']"))
		assert.Equal(t, "treble G4 | bass G4", shorthand.ReadStaff(made.part))
	})
	t.Run("a clef at the end of a bar stands at the next", func(t *testing.T) {
		t.Parallel()
		made := ownPart(t, "Horn in F", "treble F4:w bass | D2:w | C2:w treble | F4:w")
		assert.Equal(t, "treble C5 bass | A2 | G2 treble | C5", shorthand.ReadStaff(made.part))
	})
	t.Run("a hidden clef is shown", func(t *testing.T) {
		t.Parallel()
		hidden := `<attributes><clef print-object="no"><sign>F</sign><line>4</line></clef></attributes>`
		made := ownPart(t, "Bass Clarinet in Bb", hidden+" C3:w")
		assert.Nil(t, made.part.FindElement(".//clef[@print-object]"))
	})
	t.Run("a new clef stands behind the left barline", func(t *testing.T) {
		t.Parallel()
		left := `<barline location="left"><repeat direction="forward"/></barline>`
		made := ownPart(t, "Horn in F", "treble F4:w | "+left+" D2:w | C2:w")
		require.Equal(t, "treble C5 | bass A2 | G2", shorthand.ReadStaff(made.part))
		first := made.part.FindElement("measure[2]").ChildElements()[0]
		assert.Equal(t, "barline", first.Tag, "MusicXML 4.0, barline: the first element of the measure")
	})
	t.Run("a clef goes without the key beside it", func(t *testing.T) {
		t.Parallel()
		made := ownPart(t, "Alto Saxophone", "treble C4:h <attributes><key><fifths>2</fifths></key><clef><sign>F</sign><line>4</line></clef></attributes> C3:h")
		assert.Equal(t, "treble A4 A3", shorthand.ReadStaff(made.part))
		var keys []string
		for _, key := range made.part.FindElements("measure/attributes/key/fifths") {
			keys = append(keys, key.Text())
		}
		assert.Equal(t, []string{"3", "5"}, keys, "two sharps are five for the alto saxophone")
	})
	t.Run("a clef alone takes its attributes with it", func(t *testing.T) {
		t.Parallel()
		made := ownPart(t, "Alto Saxophone", "treble C4:h bass C3:h")
		assert.Len(t, made.part.FindElements("measure/attributes"), 2, "the part's own, and where the clef stood the first one")
		assert.Equal(t, "treble A4 A3", shorthand.ReadStaff(made.part))
	})
}

// Each staff has its own clefs; instruments of two staves keep theirs.
func TestClefsOfSeveralStaves(t *testing.T) {
	t.Parallel()
	two := `<attributes><staves>2</staves></attributes>`
	for _, row := range []struct{ name, why, part, music, want string }{
		{"piano", "clefs belong to the hands: nothing is touched", "Piano",
			two + " treble 2bass C2 C2 << =2 2treble C6 C6", "treble 2bass C2 C2 << 2treble C6 C6"},
		{"harp", "as the piano", "Harp",
			two + " bass 2bass C2 C2 << =2 C6 C6", "bass 2bass C2 C2 << C6 C6"},
		{"clarinets on two staves", "both staves go back to treble", "Bass Clarinet in Bb",
			two + " bass 2bass C3 C3 << =2 D3 D3", "treble 2treble D4 D4 << E4 E4"},
		{"horns on two staves, low notes in the lower", "the lower staff alone changes its clef", "Horn in F",
			two + " treble 2treble C4:w << =2 C4 C4 C4 C4 | =1 C4:w << =2 F2 F2 E2 E2 | =1 C4:w << =2 D2 D2 C2 C2 | =1 C4:w << =2 C4 C4 C4 C4",
			"treble 2treble G4 << G4 G4 G4 G4 | 2bass G4 << C3 C3 B2 B2 | G4 << A2 A2 G2 G2 | 2treble G4 << G4 G4 G4 G4"},
		{"celli on two staves", "the lower staff's soprano clef alone is foreign", "Violoncello",
			two + " tenor 2soprano C4 C4 << =2 C3 C3", "tenor 2bass C4 C4 << C3 C3"},
	} {
		assert.Equal(t, row.want, shorthand.ReadStaff(ownPart(t, row.part, row.music).part), "%s: %s", row.name, row.why)
	}
}

// An exchanged clef is said at its place.
func TestExchangedClefIsSaid(t *testing.T) {
	t.Parallel()
	made := ownPart(t, "Bassoon", "bass C3:w | C3:h baritone C3:h | tenor C4:w")
	require.Equal(t, []string{"2:3"}, warned(made, "clef-exchanged"))
	assert.Equal(t, "bass C3 | C3 C3 | tenor C4", shorthand.ReadStaff(made.part), "bass was in force already: no change is left")
	for _, w := range made.sheet.Report.Warnings {
		if w.Code == "clef-exchanged" {
			assert.Equal(t, "the score's baritone clef is none that Bassoon reads; bass clef was taken", w.Text)
		}
	}
}

func TestPlanWithUnknownClef(t *testing.T) {
	t.Parallel()
	o := parts.DefaultOptions()
	o.Plan = []parts.PlanRow{{Part: "P1", Clef: "trebel"}}
	catalogue := instrumentstest.Load(t)
	_, err := parts.Survey(scoreOf(t, "Flute", music(t, "C4")), catalogue, o)
	assert.EqualError(t, err, `plan, part "P1": "trebel" is no clef; the clefs are treble, treble-8vb, treble-8va, bass, bass-8vb, bass-8va, alto, tenor, soprano, mezzo, baritone and percussion`)
}

// A rest pushed aside for a second voice, and a note without pitch, keep their
// place on the staff when the clef changes around them: in bass clef F3 and in
// treble clef D5 are the line above the middle (trade/musicxml-coverage.md, 1).
func TestDisplayedPlacesStay(t *testing.T) {
	t.Parallel()
	rest := `<note><rest><display-step>F</display-step><display-octave>3</display-octave></rest><duration>48</duration><voice>1</voice><type>half</type></note>`
	made := ownPart(t, "Bass Clarinet in Bb", "bass "+rest+" C4:h↑ << C3:w↓ u!F3")
	assert.Equal(t, "D5", musicxml.ChildText(made.part.FindElement(".//rest"), "display-step")+musicxml.ChildText(made.part.FindElement(".//rest"), "display-octave"))
	assert.Equal(t, "treble r D5↑ << D4↓ u!D5", shorthand.ReadStaff(made.part))
}

// Each instrument of a player has its own clefs, ranges and octave lines.
func TestClefsAndRangeAfterAChangeOfInstrument(t *testing.T) {
	t.Parallel()
	change := directionOf("change to Oboe")
	for _, row := range []struct{ name, why, part, music, want string }{
		{"clef not restated in the score", "an oboist reads no bass clef", "Bassoon",
			"bass C3 D3 r:h | r:w | " + change + " C4 D4 E4 F4", "bass C3 D3 r | r | treble C4 D4 E4 F4"},
		{"clef restated", "nothing to do", "Bassoon",
			"bass C3 D3 r:h | r:w | " + change + " treble C4 D4 E4 F4", "bass C3 D3 r | r | treble C4 D4 E4 F4"},
		{"to a lower instrument", "the bassoon's own after the oboe's", "Oboe",
			"treble C4 D4 r:h | r:w | " + directionOf("change to Bassoon") + " C3 D3 E3 F3", "treble C4 D4 r | r | bass C3 D3 E3 F3"},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			made := ownPart(t, row.part, row.music)
			assert.Equal(t, row.want, shorthand.ReadStaff(made.part), row.why)
		})
	}
	made := ownPart(t, "Bassoon", "bass C2:h r:h | "+change+" treble C4:h C3:h")
	assert.Equal(t, []string{"2:3"}, warned(made, "below-range"), "C2 is the bassoon's, C3 is not the oboe's")
}
