package audit_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/audit"
	"deskpart/musicxml/notice"
)

// theme is a finished part for a clarinet in B flat that takes the one in A from bar 9
// on, with one of everything that a fault can strike. It is invented.
const theme = `<score-partwise version="4.0">
<defaults><scaling><millimeters>7</millimeters><tenths>40</tenths></scaling></defaults>
<credit page="1"><credit-words id="title">Ferry Song</credit-words></credit>
<part-list><score-part id="P1"><part-name>Clarinet in B♭</part-name><part-name-display><display-text>Clarinet in B</display-text><accidental-text>flat</accidental-text></part-name-display><part-abbreviation>Cl.</part-abbreviation><group>parts</group>
<score-instrument id="P1-I1"><instrument-name>Clarinet in B♭</instrument-name><instrument-sound>wind.reed.clarinet.bflat</instrument-sound></score-instrument>
<player id="P1-A"><player-name>Second desk</player-name></player>
<midi-instrument id="P1-I1"><midi-program>72</midi-program></midi-instrument></score-part></part-list>
<part id="P1">
<measure number="1"><print><measure-numbering>system</measure-numbering></print><attributes><divisions>2</divisions><key><fifths>2</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time>
<clef><sign>G</sign><line>2</line></clef><transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose></attributes>
<harmony><root><root-step text="B">B</root-step></root><kind text="m7">minor-seventh</kind><bass><bass-step>F</bass-step><bass-alter>1</bass-alter></bass></harmony>
<direction><direction-type><wedge type="crescendo"/></direction-type><voice>1</voice><staff>1</staff></direction>
<note id="n1"><pitch><step>B</step><octave>4</octave></pitch><duration>2</duration><instrument id="P1-I1"/><voice>1</voice><type>quarter</type><staff>1</staff><notations><slur type="start" number="1"/></notations></note>
<note><pitch><step>C</step><alter>1</alter><octave>5</octave></pitch><duration>2</duration><voice>1</voice><type>quarter</type></note>
<note><pitch><step>D</step><octave>5</octave></pitch><duration>1</duration><voice>1</voice><type>eighth</type><beam number="1">begin</beam></note>
<note><pitch><step>E</step><octave>5</octave></pitch><duration>1</duration><voice>1</voice><type>eighth</type><beam number="1">end</beam></note>
<direction><direction-type><wedge type="stop"/></direction-type></direction>
<note><pitch><step>F</step><alter>1</alter><octave>5</octave></pitch><duration>2</duration><tie type="start"/><voice>1</voice><type>quarter</type><notations><tied type="start"/><slur type="stop" number="1"/></notations></note>
</measure>
<measure number="2"><harmony><root><root-step text="">E</root-step></root><kind text="E7">dominant</kind></harmony>
<note><pitch><step>F</step><alter>1</alter><octave>5</octave></pitch><duration>2</duration><tie type="stop"/><voice>1</voice><type>quarter</type><notations><tied type="stop"/></notations></note>
<note><pitch><step>E</step><octave>5</octave></pitch><duration>2</duration><voice>1</voice><type>quarter</type><notations><ornaments><wavy-line type="start" number="1"/><wavy-line type="stop" number="1"/></ornaments></notations></note>
<direction><direction-type><octave-shift type="down" number="1"/></direction-type></direction>
<note><pitch><step>G</step><octave>6</octave></pitch><duration>4</duration><voice>1</voice><type>half</type></note>
<direction><direction-type><octave-shift type="stop" number="1"/></direction-type></direction>
</measure>
<measure number="3"><direction><direction-type><words>rit.</words></direction-type><direction-type><dashes type="start"/></direction-type></direction>
<note><pitch><step>D</step><octave>5</octave></pitch><duration>4</duration><voice>1</voice><type>half</type></note><backup><duration>4</duration></backup>
<note><pitch><step>B</step><octave>4</octave></pitch><duration>4</duration><voice>2</voice><type>half</type></note>
<note><rest/><duration>4</duration><voice>1</voice><type>half</type></note>
<direction><direction-type><dashes type="stop"/></direction-type></direction>
<barline location="right"><bar-style>light-light</bar-style></barline></measure>
<measure number="4"><attributes><measure-style><multiple-rest>3</multiple-rest></measure-style></attributes><note><rest measure="yes"/><duration>8</duration><voice>1</voice></note></measure>
<measure number="5"><note><rest measure="yes"/><duration>8</duration><voice>1</voice></note></measure>
<measure number="6"><note><rest measure="yes"/><duration>8</duration><voice>1</voice></note></measure>
<measure number="7"><attributes><key><cancel>2</cancel><fifths>-1</fifths></key><time><beats>3</beats><beat-type>4</beat-type></time></attributes>
<barline location="left"><ending number="1" type="start"/></barline>
<note><pitch><step>F</step><octave>5</octave></pitch><duration>2</duration><voice>1</voice><type>quarter</type><time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification><notations><tuplet type="start" number="1"/><tuplet type="stop" number="1"/></notations></note>
<note><pitch><step>A</step><octave>5</octave></pitch><duration>4</duration><voice>1</voice><type>half</type><listen><assess type="yes" player="P1-A"/></listen></note>
<barline location="right"><ending number="1" type="stop"/><repeat direction="backward"/></barline></measure>
<measure number="8"><attributes><measure-style><slash type="start"><except-voice>1</except-voice></slash></measure-style></attributes>
<note><pitch><step>C</step><octave>5</octave></pitch><duration>6</duration><voice>1</voice><type>half</type><dot/></note>
<attributes><measure-style><slash type="stop"/></measure-style></attributes></measure>
<measure number="9"><attributes><key><fifths>0</fifths></key><transpose><diatonic>-2</diatonic><chromatic>-3</chromatic></transpose></attributes>
<direction><direction-type><words>in A</words></direction-type></direction>
<link xlink:href="#n1" xmlns:xlink="http://www.w3.org/1999/xlink"/>
<note><pitch><step>G</step><octave>5</octave></pitch><duration>6</duration><voice>1</voice><type>half</type><dot/></note></measure>
</part></score-partwise>`

// fault is a change of the theme's text, and where it must be found.
type fault struct {
	name, why     string
	old, new      string
	code          notice.Code
	measure, beat string
}

const halfRest = `<note><rest/><duration>4</duration><voice>1</voice><type>half</type></note>`

var faults = []fault{
	{"note on staff 2", "a part of one staff", `<type>quarter</type><staff>1</staff>`, `<type>quarter</type><staff>2</staff>`, notice.NoSuchStaff, "1", "1"},
	{"direction on staff 3", "left from the score", `<voice>1</voice><staff>1</staff></direction>`, `<voice>1</voice><staff>3</staff></direction>`, notice.NoSuchStaff, "1", "1"},
	{"chord symbol on staff 2", "piled from another staff", `<kind text="E7">dominant</kind></harmony>`, `<kind text="E7">dominant</kind><staff>2</staff></harmony>`, notice.NoSuchStaff, "2", "1"},
	{"clef of staff 2", "number without its staff", `<clef><sign>G</sign>`, `<clef number="2"><sign>G</sign>`, notice.NoSuchStaff, "1", "1"},
	{"key of staff 2", "number without its staff", `<key><cancel>2</cancel>`, `<key number="2">`, notice.NoSuchStaff, "7", "1"},
	{"measure style of staff 2", "number without its staff", `<measure-style><multiple-rest>3`, `<measure-style number="2"><multiple-rest>3`, notice.NoSuchStaff, "4", "1"},
	{"bar numbers at staff 2", "left from the score", `<measure-numbering>`, `<measure-numbering staff="2">`, notice.NoSuchStaff, "1", "1"},
	{"direction for voice 3", "the voice was renumbered", `</direction-type><voice>1</voice>`, `</direction-type><voice>3</voice>`, notice.NoSuchVoice, "1", "1"},
	{"slashes except voice 5", "the voice was renumbered", `<except-voice>1<`, `<except-voice>5<`, notice.NoSuchVoice, "8", "1"},
	{"a beat too many", "a rest stands twice", halfRest, halfRest + `<note><rest/><duration>2</duration><voice>1</voice></note>`, notice.BarLength, "3", "6"},
	{"a beat too few", "a note is lost", `<pitch><step>G</step><octave>6</octave></pitch><duration>4</duration>`, `<pitch><step>G</step><octave>6</octave></pitch><duration>2</duration>`, notice.BarLength, "2", "1"},
	{"an empty bar", "no rest was set", `<measure number="5"><note><rest measure="yes"/><duration>8</duration><voice>1</voice></note></measure>`, `<measure number="5"></measure>`, notice.BarLength, "5", "1"},
	{"a time that another part stated", "the change never arrived", `<time><beats>3</beats><beat-type>4</beat-type></time>`, `<time><beats>2</beats><beat-type>4</beat-type></time>`, notice.BarLength, "7", "4"},
	{"a hidden time", "printed in another part alone", `<time><beats>3</beats>`, `<time print-object="no"><beats>3</beats>`, notice.HiddenTime, "7", "1"},
	{"a change without a name", "the player stays on the wrong instrument", `<words>in A</words>`, `<words>espr.</words>`, notice.UnnamedChange, "9", "1"},
	{"a change named wrongly", "another key", `<words>in A</words>`, `<words>in C</words>`, notice.UnnamedChange, "9", "1"},
	{"the score's name in print", "a shared staff's name", `<print><measure-numbering>`, `<print><part-name-display><display-text>Clarinets 1.2</display-text></part-name-display></print><print><measure-numbering>`, notice.OtherInstrument, "1", "1"},
	{"the score's abbreviation in print", "a shared staff's name", `<print><measure-numbering>`, `<print><part-abbreviation-display><display-text>Ob.</display-text></part-abbreviation-display></print><print><measure-numbering>`, notice.OtherInstrument, "1", "1"},
	{"the display of another name", "it stands in place of the name", `<display-text>Clarinet in B</display-text>`, `<display-text>Oboe in B</display-text>`, notice.OtherInstrument, "", ""},
	{"the old sound", "played back as an oboe", `wind.reed.clarinet.bflat`, `wind.reed.oboe`, notice.OtherInstrument, "", ""},
	{"the old program", "played back as an oboe", `<midi-program>72</midi-program>`, `<midi-program>69</midi-program>`, notice.OtherInstrument, "", ""},
	{"the old instrument's name", "in the list of parts", `<instrument-name>Clarinet in B♭</instrument-name>`, `<instrument-name>Oboe</instrument-name>`, notice.OtherInstrument, "", ""},
	{"a change to the old sound", "in mid-part", `<harmony><root><root-step text="">`, `<sound><instrument-change id="P1-I1"><instrument-sound>wind.reed.oboe</instrument-sound></instrument-change></sound><harmony><root><root-step text="">`, notice.OtherInstrument, "2", "1"},
	{"a change to the old program", "in mid-part", `<harmony><root><root-step text="">`, `<sound><midi-instrument id="P1-I1"><midi-program>69</midi-program></midi-instrument></sound><harmony><root><root-step text="">`, notice.OtherInstrument, "2", "1"},
	{"a percussion picture", "left from the old instrument", `<words>rit.</words>`, `<percussion><timpani/></percussion>`, notice.OtherInstrument, "3", "1"},
	{"kind text with the old root", "B moved to E, the text did not", `<kind text="E7">`, `<kind text="B7">`, notice.ChordContradictsRoot, "2", "1"},
	{"root text with the old letter", "the text did not move", `<root-step text="B">B`, `<root-step text="A">B`, notice.ChordContradictsRoot, "1", "1"},
	{"bass in the kind's text", "the slash chord did not move", `<kind text="m7">`, `<kind text="m7/E">`, notice.ChordContradictsRoot, "1", "1"},
	{"two chord symbols", "of two staves", `<harmony><root><root-step text="">`, `<harmony><root><root-step>A</root-step></root><kind>major</kind></harmony><harmony><root><root-step text="">`, notice.ChordsOnOneBeat, "2", "1"},
	{"a slur without an end", "its end is another player's", `<slur type="stop" number="1"/>`, ``, notice.LineWithoutEnd, "1", "1"},
	{"a slur without a start", "its start is another player's", `<notations><slur type="start" number="1"/></notations>`, ``, notice.LineWithoutEnd, "1", "4"},
	{"a hairpin without an end", "its end is another player's", `<wedge type="stop"/>`, `<dynamics><f/></dynamics>`, notice.LineWithoutEnd, "1", "1"},
	{"dashes without a start", "the words went", `<dashes type="start"/>`, `<words>a</words>`, notice.LineWithoutEnd, "3", "5"},
	{"an octave line without an end", "cut", `<octave-shift type="stop" number="1"/>`, `<words>loco</words>`, notice.LineWithoutEnd, "2", "3"},
	{"a tuplet without an end", "its last note went", `<tuplet type="stop" number="1"/>`, ``, notice.LineWithoutEnd, "7", "1"},
	{"a beam without an end", "its last note went", `<beam number="1">end</beam>`, ``, notice.LineWithoutEnd, "1", "3"},
	{"a beam that goes on from nothing", "its first note went", `<beam number="1">begin</beam>`, ``, notice.LineWithoutEnd, "1", "3.5"},
	{"an ending without an end", "the barline was not copied", `<ending number="1" type="stop"/>`, ``, notice.LineWithoutEnd, "7", "1"},
	{"a trill's line without an end", "cut", `<wavy-line type="stop" number="1"/>`, ``, notice.LineWithoutEnd, "2", "2"},
	{"slashes without an end", "cut", `<slash type="stop"/>`, `<beat-repeat type="stop"/>`, notice.LineWithoutEnd, "8", "1"},
	{"a tie to another pitch", "the two ends moved apart", "<step>F</step><alter>1</alter><octave>5</octave></pitch><duration>2</duration><tie type=\"stop\"/>", "<step>G</step><octave>5</octave></pitch><duration>2</duration><tie type=\"stop\"/>", notice.TieToNothing, "1", "4"},
	{"a tie without an end", "the second note lost its tie", `<tie type="stop"/><voice>1</voice><type>quarter</type><notations><tied type="stop"/></notations>`, `<voice>1</voice><type>quarter</type>`, notice.TieToNothing, "1", "4"},
	{"a tie without a start", "the first note is another player's", `<tie type="start"/><voice>1</voice><type>quarter</type><notations><tied type="start"/>`, `<voice>1</voice><type>quarter</type><notations>`, notice.TieToNothing, "2", "1"},
	{"a note under a multi-bar rest", "a cue was added", `<measure number="6"><note><rest measure="yes"/>`, `<measure number="6"><note><cue/><pitch><step>C</step><octave>5</octave></pitch>`, notice.RestNotEmpty, "6", "1"},
	{"a time under a multi-bar rest", "a restatement was copied into it", `<measure number="5"><note>`, `<measure number="5"><attributes><time><beats>4</beats><beat-type>4</beat-type></time></attributes><note>`, notice.RestNotEmpty, "5", "1"},
	{"a mark under a multi-bar rest", "a tempo was copied into it", `<measure number="5"><note>`, `<measure number="5"><direction><direction-type><words>Meno mosso</words></direction-type></direction><note>`, notice.RestNotEmpty, "5", "1"},
	{"a double bar under a multi-bar rest", "it divides the rest", `<measure number="5"><note>`, `<measure number="5"><barline location="left"><bar-style>light-light</bar-style></barline><note>`, notice.RestNotEmpty, "5", "1"},
	{"a rest longer than the part", "it counts bars that are not there", `<multiple-rest>3<`, `<multiple-rest>9<`, notice.RestNotEmpty, "7", "1"},
	{"a clef of another instrument", "an alto clef for a clarinet", `<clef><sign>G</sign><line>2</line></clef>`, `<clef><sign>C</sign><line>3</line></clef>`, notice.ClefNotRead, "1", "1"},
	{"an instrument that is not there", "the entry lost it", `<instrument id="P1-I1"/>`, `<instrument id="P1-I2"/>`, notice.RefersToNothing, "1", "1"},
	{"a player who is not there", "the entry lost it", `player="P1-A"`, `player="P1-B"`, notice.RefersToNothing, "7", "2"},
	{"a link to nowhere", "its target did not come along", `xlink:href="#n1"`, `xlink:href="#n7"`, notice.RefersToNothing, "9", "1"},
	{"a concert score's note", "for-part is left", `<measure-style><multiple-rest>3</multiple-rest></measure-style></attributes>`, `<for-part><part-transpose><chromatic>0</chromatic></part-transpose></for-part><measure-style><multiple-rest>3</multiple-rest></measure-style></attributes>`, notice.RefersToNothing, "4", "1"},
	{"a concert score", "the part is transposed", `<scaling>`, `<concert-score/><scaling>`, notice.RefersToNothing, "", ""},
	{"another part's entry", "the list names two", `<part-list>`, `<part-list><score-part id="P2"><part-name>Oboe</part-name></score-part>`, notice.RefersToNothing, "", ""},
	{"another key cancelled", "it was not recomputed", `<cancel>2</cancel>`, `<cancel>0</cancel>`, notice.CancelsAnotherKey, "7", "1"},
}

func examine(t *testing.T, text string) []musicxml.Warning {
	t.Helper()
	doc, err := musicxml.ParseDocument([]byte(text), musicxml.ReadOptions{})
	require.NoError(t, err)
	catalogue := instrumentstest.Load(t)
	clarinet := catalogue.ByID("clarinet-bflat")
	require.NotNil(t, clarinet)
	return audit.Examine(audit.Part{Root: doc.Root(), Instrument: clarinet, Given: true, Clefs: clarinet.Clefs, Catalogue: catalogue})
}

// TestEveryPlantedFaultIsFound plants each fault in the theme. One fault is one
// finding, of its kind, at its place; where it breaks something else as well that may
// be said, too.
func TestEveryPlantedFaultIsFound(t *testing.T) {
	t.Parallel()
	require.Empty(t, examine(t, theme), "the theme itself is right")
	require.GreaterOrEqual(t, len(faults), 40)
	codes := map[notice.Code]bool{}
	for _, f := range faults {
		codes[f.code] = true
		t.Run(f.name, func(t *testing.T) {
			t.Parallel()
			require.Equal(t, 1, strings.Count(theme, f.old), "the fault strikes one place")
			found := examine(t, strings.Replace(theme, f.old, f.new, 1))
			require.NotEmpty(t, found, f.why)
			var places []string
			for _, w := range found {
				places = append(places, string(w.Code)+" "+w.Measure+":"+w.Beat)
				assert.NotEmpty(t, w.Text)
			}
			assert.Contains(t, places, string(f.code)+" "+f.measure+":"+f.beat, f.why)
			assert.LessOrEqual(t, len(found), 3, "one fault makes no noise: %v", found)
		})
	}
	for _, c := range audit.Codes {
		assert.True(t, codes[c], "no fault tries %s", c)
	}
}

// TestChangesOfTransposition: what names a change, and what is said of one.
func TestChangesOfTransposition(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	const words = "<direction><direction-type><words>in A</words></direction-type></direction>"
	shown := func(name string) string {
		return "<print><part-name-display><display-text>" + name + "</display-text></part-name-display></print>"
	}
	for _, row := range []struct {
		name, why, text string
		said            []musicxml.Warning
		codes           []notice.Code
	}{
		{"a key", "the player knows what is meant", words, nil, nil},
		{"a name", "in words", strings.Replace(words, "in A", "Clarinet in A", 1), nil, nil},
		{"a name in another language", "German", strings.Replace(words, "in A", "Klarinette in A", 1), nil, nil},
		{"a shown name", "it stands before the next system", shown("Clarinet in A"), nil, nil},
		{"nothing", "the player stays on the wrong instrument", "", nil, []notice.Code{notice.UnnamedChange}},
		{"nothing, but said", "a person will look", "", []musicxml.Warning{{Code: "change-unnamed", Measure: "9"}}, nil},
		{"said elsewhere", "that was another change", "", []musicxml.Warning{{Code: "change-unnamed", Measure: "8"}}, []notice.Code{notice.UnnamedChange}},
		{"another name", "of another transposition", shown("Clarinet in B♭ 2"), nil, []notice.Code{notice.UnnamedChange, notice.OtherInstrument}},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			doc, err := musicxml.ParseDocument([]byte(strings.Replace(theme, words, row.text, 1)), musicxml.ReadOptions{})
			require.NoError(t, err)
			found := audit.Examine(audit.Part{Root: doc.Root(), Instrument: catalogue.ByID("clarinet-bflat"), Catalogue: catalogue, Said: row.said})
			var codes []notice.Code
			for _, w := range found {
				assert.Equal(t, "9", w.Measure)
				codes = append(codes, w.Code)
			}
			assert.Equal(t, row.codes, codes, row.why)
		})
	}
}
