package verify_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
	"deskpart/transpose"
	"deskpart/transpose/verify"
)

// TestValidAsItIsWritten: what the standard lets a score write in several ways comes
// back identical, by way of every transposition: a comment or a processing instruction
// inside a value (XML 1.0, 2.5 and 2.6), a number with a zero in front (XML Schema 2,
// 3.3.13), attributes of one moment in two elements, elements of another format.
func TestValidAsItIsWritten(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	var all []transpose.Transposition
	for _, i := range catalogue.All() {
		all = append(all, transpose.Transposition{Diatonic: i.Diatonic, Chromatic: i.Chromatic, OctaveChange: i.OctaveChange})
	}
	const start = `<attributes><divisions>1</divisions><key><fifths>2</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time><clef><sign>G</sign><line>2</line></clef></attributes>`
	const note = `<note><pitch><step>F</step><alter>1</alter><octave>4</octave></pitch><duration>4</duration><voice>1</voice><type>whole</type></note>`
	for _, test := range []struct{ name, music string }{
		{"comment in the octave", start + `<note><pitch><step>D</step><octave><!-- x -->4</octave></pitch><duration>4</duration></note>`},
		{"comment in the step", start + `<note><pitch><step><!-- x -->D</step><octave>4</octave></pitch><duration>4</duration></note>`},
		{"instruction in the alteration", start + `<note><pitch><step>F</step><alter><?a b?>1</alter><octave>4<!-- x --></octave></pitch><duration>4</duration></note>`},
		{"comment in the signature", `<attributes><divisions>1</divisions><key><fifths>-<!-- x -->3</fifths></key></attributes><note><rest/><duration>4</duration></note>`},
		{"comment in an accidental", start + `<note><pitch><step>F</step><octave>4</octave></pitch><duration>4</duration><accidental><!-- x -->natural</accidental></note>`},
		{"comment in a chord symbol", start + `<harmony><root><root-step><!-- x -->D</root-step><root-alter><!-- y -->-1</root-alter></root><kind>major</kind></harmony>` + note},
		{"comment in a transposition", `<attributes><divisions>1</divisions><key><fifths>2</fifths></key><transpose><diatonic><!-- x -->-1</diatonic><chromatic>-<?a b?>2</chromatic></transpose></attributes>` + note},
		{"zero before a signature", `<attributes><divisions>1</divisions><key><fifths>-01</fifths></key></attributes>` + note},
		{"sign before a signature", `<attributes><divisions>1</divisions><key><cancel>+02</cancel><fifths>+1</fifths></key></attributes>` + note},
		{"transposition in attributes of its own", start + `<attributes><transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose></attributes>` + note},
		{"transposition before all else", `<attributes><transpose><diatonic>-4</diatonic><chromatic>-7</chromatic></transpose></attributes>` + start + note},
		{"three attributes", `<attributes><divisions>1</divisions></attributes><attributes><key><fifths>1</fifths></key></attributes><attributes><transpose><chromatic>2</chromatic></transpose></attributes>` + note},
		{"an element of another format", start + `<thing xmlns="urn:x"><pitch/></thing>` + note},
		{"another format inside a note", start + `<note><pitch><step>F</step><alter>1</alter><octave>4</octave></pitch><duration>4</duration><thing xmlns="urn:x"><pitch>high</pitch></thing></note>`},
		{"another format with a prefix", start + `<note><pitch><step>F</step><alter>1</alter><octave>4</octave></pitch><duration>4</duration><x:thing xmlns:x="urn:x"><pitch/></x:thing></note>`},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			score, err := musicxml.Read([]byte(`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Clarinet in B♭</part-name></score-part></part-list><part id="P1"><measure number="1">`+test.music+`</measure></part></score-partwise>`), musicxml.ReadOptions{})
			require.NoError(t, err)
			surveyed := partstest.Survey(t, score, parts.DefaultOptions())
			verdict, found, err := verify.Part(surveyed, 0, verify.Options{MaxSignature: 6, Also: all}, new(verify.Memory))
			require.NoError(t, err)
			assert.Equal(t, verify.Identical, verdict, "%v", found)
		})
	}
}
