package parts_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// Marks at stems. The alto saxophone's E4 becomes C#5, whose stem turns from up
// to down, and its C4 becomes A4, whose stem stays up. Signs of articulation stand
// at the notehead and tuplet numbers at the stem in one-voice writing (common
// practice; trade/musicxml-coverage.md, section 4); slurs below where all stems go
// up, else above.
func TestMarksFollowTheStem(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ name, why, music, path, attr, want string }{
		{"staccato", "below the head of an upward stem, above that of a downward one",
			`treble E4↑«<articulations><staccato·placement="below"/></articulations>»`, ".//staccato", "placement", "above"},
		{"staccato put above by an editor", "it did not follow the stem",
			`treble E4↑«<articulations><staccato·placement="above"/></articulations>»`, ".//staccato", "placement", "above"},
		{"stem not turned", "nothing changes",
			`treble C4↑«<articulations><accent·placement="below"/></articulations>»`, ".//accent", "placement", "below"},
		{"no placement", "none is added: it follows by itself",
			`treble E4↑«<articulations><accent/></articulations>»`, ".//accent", "placement", ""},
		{"strong accent", "it points up above the note",
			`treble E4↑«<articulations><strong-accent·type="down"·placement="below"/></articulations>»`, ".//strong-accent", "type", "up"},
		{"breath mark", "a comma stands above the staff whatever the stem",
			`treble E4↑«<articulations><breath-mark·placement="above"/></articulations>»`, ".//breath-mark", "placement", "above"},
		{"whole note", "as if it had a stem",
			`treble E4:w«<articulations><tenuto·placement="below"/></articulations>»`, ".//tenuto", "placement", "above"},
		{"tuplet", "the number stands at the stems",
			`treble E4:e↑{«<tuplet·type="start"·placement="above"/>» G4:e↑}«<tuplet·type="stop"/>»`, ".//tuplet", "placement", "below"},
		{"tie", "its side is left to the stem",
			`treble E4↑~«<tied·type="start"·orientation="under"/>» E4↑«<tied·type="stop"/>»`, ".//tied", "orientation", ""},
		{"slur, stems now down", "above",
			`treble E4↑«<slur·type="start"·placement="below"/>» G4↑«<slur·type="stop"/>»`, ".//slur", "placement", "above"},
		{"slur, stems of both kinds", "above",
			`treble C4↑«<slur·type="start"·placement="below"/>» G4↑«<slur·type="stop"/>»`, ".//slur", "placement", "above"},
		{"slur drawn over", "orientation says the same",
			`treble E4↑«<slur·type="start"·orientation="under"/>» G4↑«<slur·type="stop"/>»`, ".//slur", "orientation", "over"},
		{"slur, stems not turned", "an editor's side stays",
			`treble C4↑«<slur·type="start"·placement="above"/>» C4↑«<slur·type="stop"/>»`, ".//slur", "placement", "above"},
		{"slur that goes on in the middle", "all its ends stand on one side",
			`treble E4↑«<slur·type="start"·placement="below"/>» G4↑«<slur·type="continue"·placement="below"/>» G4↑«<slur·type="stop"·placement="below"/>»`, ".//slur[@type='continue']", "placement", "above"},
		{"the end of that slur", "", `treble E4↑«<slur·type="start"·placement="below"/>» G4↑«<slur·type="continue"·placement="below"/>» G4↑«<slur·type="stop"·placement="below"/>»`, ".//slur[@type='stop']", "placement", "above"},
		{"slurs inside each other", "each by its own number: the inner one over stems that stay up",
			`treble E4↑«<slur·type="start"·number="1"·placement="below"/>» C4↑«<slur·type="start"·number="2"·placement="below"/>» C4↑«<slur·type="stop"·number="2"/>» E4↑«<slur·type="stop"·number="1"/>»`, ".//slur[@number='2']", "placement", "below"},
		{"the outer one", "some stems go down: above",
			`treble E4↑«<slur·type="start"·number="1"·placement="below"/>» C4↑«<slur·type="start"·number="2"·placement="below"/>» C4↑«<slur·type="stop"·number="2"/>» E4↑«<slur·type="stop"·number="1"/>»`, ".//slur[@number='1']", "placement", "above"},
		{"slur over a rest", "a rest has no stem", `treble E4↑«<slur·type="start"·placement="below"/>» r E4↑«<slur·type="stop"/>»`, ".//slur", "placement", "above"},
		{"a slur that was never ended", "its number begins anew",
			`treble E4↑«<slur·type="start"·placement="below"/>» E4↑ C4↑«<slur·type="start"·placement="below"/>» C4↑«<slur·type="stop"/>»`, ".//note[3]//slur", "placement", "below"},
		{"strong accent in an editor's place", "it did not follow the stem, nor does its point", `treble E4↑«<articulations><strong-accent·type="up"·placement="above"/></articulations>»`, ".//strong-accent", "type", "up"},
		{"accidental over a trill", "it stays with it", `treble E4↑«<ornaments><trill-mark·placement="below"/><accidental-mark·placement="below">sharp</accidental-mark></ornaments>»`, ".//accidental-mark", "placement", "below"},
		{"upright pause", "above in one voice",
			`treble E4↑«<fermata·type="upright"/>»`, ".//fermata", "type", "upright"},
		{"inverted pause of an unshared staff", "kept: the score has it so",
			`treble E4↑«<fermata·type="inverted"/>»`, ".//fermata", "type", "inverted"},
		{"trill", "above the staff whatever the stem",
			`treble E4↑«<ornaments><trill-mark·placement="above"/></ornaments>»`, ".//trill-mark", "placement", "above"},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			made := ownPart(t, "Alto Saxophone", row.music)
			e := made.part.FindElement(row.path)
			require.NotNil(t, e)
			assert.Equal(t, row.want, e.SelectAttrValue(row.attr, ""), row.why)
		})
	}
}

// The other way round: the piccolo clarinet in A flat reads C5 as E4, whose stem turns up: signs
// stand below, and a strong accent points down there.
func TestMarksFollowTheStemUp(t *testing.T) {
	t.Parallel()
	made := handedTo(t, scoreOf(t, "Piccolo Clarinet in Ab", music(t, `treble C5:q↓«<articulations><strong-accent·type="up"·placement="above"/><staccato·placement="above"/></articulations>» C5:q↓ `+
		`<note><pitch><step>C</step><octave>5</octave></pitch><duration>24</duration><voice>1</voice><type>quarter</type><stem>down</stem><notehead>fa</notehead></note>`)), "", "")
	assert.Equal(t, "treble E4↑ E4↑ E4↑", shorthand.ReadStaff(made.part))
	assert.Equal(t, "fa up", made.part.FindElement(".//notehead").Text())
	accent := made.part.FindElement(".//strong-accent")
	assert.Equal(t, []string{"below", "down"}, []string{accent.SelectAttrValue("placement", ""), accent.SelectAttrValue("type", "")})
	assert.Equal(t, "below", made.part.FindElement(".//staccato").SelectAttrValue("placement", ""))
}

// Dots and shape notes. "fa up" goes with stems up (MusicXML 4.0, notehead-value).
func TestDotsAndShapesFollowTheStem(t *testing.T) {
	t.Parallel()
	note := `<note><pitch><step>E</step><octave>4</octave></pitch><duration>36</duration><voice>1</voice><type>quarter</type><dot placement="below"/><stem>up</stem><notehead>fa up</notehead></note>`
	made := ownPart(t, "Alto Saxophone", "treble "+note)
	assert.Equal(t, "treble C#5↓", shorthand.ReadStaff(made.part))
	assert.Equal(t, "fa", musicxml.ChildText(made.part.FindElement(".//note"), "notehead"))
	assert.Equal(t, "", made.part.FindElement(".//dot").SelectAttrValue("placement", ""))
}

// The second player of a shared staff had stems down and marks below; in a part of
// his own the one-voice rule holds (harris s.28, s.49) and marks stand as there.
func TestMarksOfAPlayerOffASharedStaff(t *testing.T) {
	t.Parallel()
	score := scoreOf(t, "Flutes 1 &amp; 2", music(t,
		`treble G5↑«<fermata/>» A4↑«<articulations><accent·placement="above"/></articulations>» A5↑ G5↑ << `+
			`E4↓«<fermata·type="inverted"/><articulations><accent·placement="below"/></articulations>» `+
			`D4↓«<slur·type="start"·placement="below"/>» F4↓«<slur·type="stop"/>» C5↓«<articulations><strong-accent·type="down"·placement="below"/></articulations><ornaments><trill-mark·placement="below"/></ornaments>»`))
	o := parts.DefaultOptions()
	o.Players = true
	job := partstest.Job(t, score, o)
	require.Len(t, job.Assignments(), 2)
	sheet, err := job.Make(0)
	require.NoError(t, err)
	part := sheet.Document.Root().SelectElement("part")
	assert.Equal(t, "treble G5↓ A4↑ A5↓ G5↓", shorthand.ReadStaff(part))
	assert.Equal(t, "below", part.FindElement(".//accent").SelectAttrValue("placement", ""), "the first player's, too")
	sheet, err = job.Make(1)
	require.NoError(t, err)
	part = sheet.Document.Root().SelectElement("part")
	assert.Equal(t, "treble E4↑ D4↑ F4↑ C5↓", shorthand.ReadStaff(part))
	assert.Equal(t, "upright", part.FindElement(".//fermata").SelectAttrValue("type", "upright"))
	assert.Equal(t, "below", part.FindElement(".//accent").SelectAttrValue("placement", ""), "at the head of an upward stem")
	assert.Equal(t, "below", part.FindElement(".//slur").SelectAttrValue("placement", ""), "all stems up")
	accent := part.FindElement(".//strong-accent")
	assert.Equal(t, "above up", accent.SelectAttrValue("placement", "")+" "+accent.SelectAttrValue("type", ""))
	assert.Equal(t, "", part.FindElement(".//trill-mark").SelectAttrValue("placement", ""), "above, as usual")
}
