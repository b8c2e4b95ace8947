package parts_test

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"

	"deskpart/musicxml"
	"deskpart/musicxml/parts"
)

// Which marks reach another part, and how often. The part looked at is a cello
// under a flute and a violin; its own bars are whole notes unless the case says
// otherwise. Expectations: notation-rules section 11, musicxml-coverage section 7,
// MusicXML 4.0 for attributes; where only practice speaks, why says so.
func TestMarksReachAnotherPart(t *testing.T) {
	tests := []struct {
		name, why          string
		flute, violin, own []string
		want               string
	}{
		{"words of one player", "technique, expression and dynamics stay with their player",
			[]string{words("dolce") + words("pizz.") + words("Solo") + words("a 2") + whole}, nil, nil, "1 4/4"},
		{"a tempo word in a middle part", "tempo holds for everybody wherever it stands",
			nil, []string{words("Andante") + whole}, nil, `1 4/4 "Andante"`},
		{"a gradual change in the lowest but one", "text alone is enough", nil, []string{half + words("poco rit.") + half}, nil, `1 4/4 "poco rit." @2`},
		{"a heading in the top part", "Maestoso with a capital at the head of the system is a tempo",
			[]string{words("Maestoso") + whole}, nil, nil, `1 4/4 "Maestoso"`},
		{"the same word inside a bar", "there it tells the flute how to play", []string{half + words("Maestoso") + half}, nil, nil, "1 4/4"},
		{"the same word in small letters", "an expression", []string{words("maestoso") + whole}, nil, nil, "1 4/4"},
		{"the same word at the top of the strings", "each family is headed for its players (mola-guidelines)", nil, []string{words("Maestoso") + whole}, nil, `1 4/4 "Maestoso"`},
		{"unknown words in bold at the head", "so tempo headings are printed",
			[]string{direction(`placement="above"`, dtype(`<words font-weight="bold">With a limp</words>`), "") + whole}, nil, nil, `1 4/4 "With a limp"`},
		{"unknown words of which some are not bold", "a heading is bold throughout",
			[]string{direction(`placement="above"`, dtype(`<words font-weight="bold">With a</words><words>limp</words>`), "") + whole}, nil, nil, "1 4/4"},
		{"unknown words in bold beside an empty text", "what says nothing does not count",
			[]string{direction(`placement="above"`, dtype(`<words/><words font-weight="bold">With a limp</words>`), "") + whole}, nil, nil, `1 4/4 "" "With a limp"`},
		{"unknown plain words", "they are the player's", []string{words("With a limp") + whole}, nil, nil, "1 4/4"},
		{"words with a playback tempo", "playback shows that they give a tempo",
			[]string{direction("", dtype("<words>with a limp</words>"), `<sound tempo="70"/>`) + whole}, nil, nil, `1 4/4 "with a limp" sound(tempo=70)`},
		{"a player's words with a playback tempo", "the tempo is everybody's, the words are not",
			[]string{direction("", dtype("<words>pizz.</words>"), `<sound tempo="70"/>`) + whole}, nil, nil, "1 4/4 sound(tempo=70)"},
		{"directive", "the attribute is for tempo marks (MusicXML 4.0, directive)",
			nil, []string{direction(`directive="yes"`, dtype("<words>con fuoco</words>"), "") + whole}, nil, `1 4/4 "con fuoco"`},
		{"the old directive element", "MusicXML 1.0 wrote tempo words so",
			[]string{strings.Replace(opening, "</attributes>", "<directive>Allegro</directive></attributes>", 1) + whole}, nil, nil, `1 4/4 "Allegro"`},
		{"system only-top", "it belongs to the system, whatever it says",
			[]string{direction(`system="only-top"`, dtype("<words>x</words>"), "") + whole}, nil, nil, `1 4/4 "x"`},
		{"system also-top", "once in each part, not twice", nil, []string{direction(`system="also-top"`, dtype("<words>x</words>"), "") + whole}, nil, `1 4/4 "x"`},
		{"system none", "it is the violin's own", nil, []string{direction(`system="none"`, dtype("<words>rit.</words>"), "") + whole}, nil, "1 4/4"},
		{"rehearsal marks", "once", []string{direction("", dtype("<rehearsal>A</rehearsal>"), "") + whole, whole},
			[]string{direction("", dtype("<rehearsal>A</rehearsal>"), "") + whole, direction("", dtype("<rehearsal>B</rehearsal>"), "") + whole}, nil, "1 4/4 [A]\n2 [B]"},
		{"a rehearsal mark with dynamics in one direction", "the dynamics stay",
			[]string{direction("", dtype("<rehearsal>A</rehearsal>")+dtype("<dynamics><f/></dynamics>"), "") + whole}, nil, nil, "1 4/4 [A]"},
		{"a part's own rehearsal mark elsewhere in the bar", "it is not doubled", []string{direction("", dtype("<rehearsal>A</rehearsal>"), "") + whole}, nil,
			[]string{half + direction("", dtype("<rehearsal>A</rehearsal>"), "") + half}, "1 4/4 [A]"},
		{"two in one bar, one of them its own", "the other is added, at its place",
			[]string{words("rit.") + half + words("rit.") + half}, nil, []string{half + words("rit.") + half}, `1 4/4 "rit." "rit."`},
		{"its own across the bar line", "a beat away and the same", []string{half + quarter + words("rit.") + quarter, whole}, nil,
			[]string{whole, words("ritard.") + whole}, "1 4/4\n2 \"ritard.\""},
		{"its own two beats across the bar line", "too far to be the same", []string{half + words("rit.") + half, whole}, nil,
			[]string{whole, words("rit.") + whole}, "1 4/4 \"rit.\" @2\n2 \"rit.\""},
		{"its own, with more words", "\"rit. e dim.\" slows down as well", []string{words("rit.") + whole}, nil, []string{words("rit. e dim.") + whole}, `1 4/4 "rit. e dim."`},
		{"its own tempo without the metronome mark", "the metronome mark is added",
			[]string{direction("", dtype("<words>Allegro</words>")+dtype("<metronome><beat-unit>half</beat-unit><per-minute>60</per-minute></metronome>"), `<sound tempo="120"/>`) + whole}, nil,
			[]string{words("Allegro") + whole}, `1 4/4 metronome sound(tempo=120) "Allegro"`},
		{"its own metronome mark", "two cannot hold at once",
			[]string{direction("", dtype("<metronome><beat-unit>half</beat-unit><per-minute>60</per-minute></metronome>"), "") + whole}, nil,
			[]string{direction("", dtype("<metronome><beat-unit>quarter</beat-unit><per-minute>120</per-minute></metronome>"), "") + whole}, "1 4/4 metronome"},
		{"an empty metronome mark", "it says nothing and is not spread",
			[]string{direction("", dtype("<words>Vivo</words>")+dtype("<metronome><beat-unit/><per-minute>120</per-minute></metronome>"), "") + whole}, nil, nil, `1 4/4 "Vivo"`},
		{"sounds alone", "tempo, jumps and swing play for everybody; dynamics and pizzicato do not",
			[]string{`<sound tempo="90" dynamics="80"/><sound pizzicato="yes"/><sound dacapo="yes"/>` + whole}, nil, nil, "1 4/4 sound(tempo=90) sound(dacapo=yes)"},
		{"section names", "named at the head of the system", []string{words("Trio") + whole}, nil, nil, `1 4/4 "Trio"`},
		{"letters over a part", "notes of an editor", []string{words("a") + words("x") + whole}, nil, nil, "1 4/4"},
		{"a movement's number alone", "a single I. names a player or a string", []string{words("I.") + words("Allegro") + whole}, nil, nil, `1 4/4 "Allegro"`},
		{"numbers of movements", "where there are several, each beside metre and tempo",
			[]string{words("I.") + words("Allegro") + whole, `<attributes><time><beats>4</beats><beat-type>4</beat-type></time></attributes>` + words("II.") + words("Adagio") + whole}, nil, nil,
			"1 4/4 \"I.\" \"Allegro\"\n2 4/4 \"II.\" \"Adagio\""},
		{"a line that belongs to a tempo", "it comes along, under a number that is free",
			[]string{direction("", dtype("<words>rit.</words>")+dtype(`<dashes type="start" number="1"/>`), "") + whole, half + direction("", dtype(`<dashes type="stop" number="1"/>`), "") + half}, nil,
			[]string{direction("", dtype("<words>cresc.</words>")+dtype(`<dashes type="start" number="1"/>`), "") + whole, whole + direction("", dtype(`<dashes type="stop" number="1"/>`), "")},
			"1 4/4 \"rit.\" dashes start \"cresc.\" dashes start\n2 dashes stop @2 dashes stop"},
		{"a line that never stops", "a start alone would run to the end", []string{direction("", dtype("<words>rit.</words>")+dtype(`<dashes type="start"/>`), "") + whole}, nil, nil, `1 4/4 "rit."`},
		{"a line of a player's words", "it stays", []string{direction("", dtype("<words>cresc.</words>")+dtype(`<dashes type="start"/>`), "") + whole + direction("", dtype(`<dashes type="stop"/>`), "")}, nil, nil, "1 4/4"},
		{"a word drawn over several beats", "its syllables belong to it", []string{half + words("ral-") + half, words("len-") + half + words("tan-") + half, words("do") + whole, words("te") + whole}, nil, nil,
			"1 4/4 \"ral-\" @2\n2 \"len-\" \"tan-\" @2\n3 \"do\"\n4 \"te\""},
		{"a syllable of no word", "it is not a tempo", []string{words("do") + whole}, nil, nil, "1 4/4"},
		{"a heading under the staff", "it is the player's", []string{strings.Replace(words("Maestoso"), "above", "below", 1) + whole}, nil, nil, "1 4/4"},
		{"a movement's number under the staff", "it is no heading",
			[]string{words("I.") + words("Allegro") + whole, `<attributes><time><beats>4</beats><beat-type>4</beat-type></time></attributes>` + strings.Replace(words("II."), "above", "below", 1) + words("Adagio") + whole}, nil, nil,
			"1 4/4 \"Allegro\"\n2 \"Adagio\""},
		{"a movement's number without a metre", "nothing begins there", []string{words("I.") + words("Allegro") + whole, words("II.") + words("Adagio") + whole}, nil, nil, "1 4/4 \"Allegro\"\n2 \"Adagio\""},
		{"numbers of movements beside metronome marks", "they give the tempo as words do",
			[]string{words("I.") + direction("", dtype("<metronome><beat-unit>half</beat-unit><per-minute>60</per-minute></metronome>"), "") + whole,
				`<attributes><time><beats>4</beats><beat-type>4</beat-type></time></attributes>` + words("II.") + words("Maestoso") + whole}, nil, nil, "1 4/4 \"I.\" metronome\n2 4/4 \"II.\" \"Maestoso\""},
		{"the metre again behind a final bar line", "there another movement begins",
			[]string{whole + `<barline location="right"><bar-style>light-heavy</bar-style></barline>`, `<attributes><time><beats>4</beats><beat-type>4</beat-type></time></attributes>` + whole}, nil, nil, "1 4/4 |||\n2 4/4"},
		{"the metre again behind a repeat", "nothing begins there",
			[]string{whole + `<barline location="right"><bar-style>light-heavy</bar-style><repeat direction="backward"/></barline>`, `<attributes><time><beats>4</beats><beat-type>4</beat-type></time></attributes>` + whole}, nil, nil, "1 4/4 ||| :|"},
		{"a line whose words the part has", "only what is missing comes, and no line without its words",
			[]string{direction("", dtype("<words>rit.</words>")+dtype(`<dashes type="start"/>`)+dtype("<metronome><beat-unit>half</beat-unit><per-minute>60</per-minute></metronome>"), "") + half + direction("", dtype(`<dashes type="stop"/>`), "") + half}, nil,
			[]string{words("rit.") + half + half}, "1 4/4 metronome \"rit.\""},
		{"a tempo that the part plays, and a jump", "only the jump is missing", []string{direction("", dtype("<segno/>"), `<sound tempo="90" dacapo="yes"/>`) + whole}, nil,
			[]string{`<sound tempo="90"/>` + whole}, "1 4/4 segno sound(dacapo=yes) sound(tempo=90)"},
		{"the same playback tempo elsewhere in the bar", "it is not doubled", []string{`<sound tempo="90"/>` + half + half}, nil, []string{half + `<sound tempo="90"/>` + half}, "1 4/4 sound(tempo=90)"},
		{"another playback tempo elsewhere in the bar", "it is another", []string{`<sound tempo="90"/>` + half + half}, nil, []string{half + `<sound tempo="60"/>` + half}, "1 4/4 sound(tempo=90) sound(tempo=60)"},
		{"directions with an offset", "the mark is printed where it is seen",
			[]string{direction("", dtype("<words>rit.</words>"), "<offset>2</offset>") + whole}, nil, []string{half + half}, `1 4/4 "rit." @2`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			n := max(len(tt.flute), len(tt.violin), len(tt.own), 1)
			score := miniScore(t, miniPart{"Flute", bars(tt.flute, n)}, miniPart{"Violin", bars(tt.violin, n)}, miniPart{"Cello", bars(tt.own, n)})
			sheet := makeMini(t, score, 2, parts.DefaultOptions())
			assert.Equal(t, tt.want, roadText(sheet.Document), tt.why)
		})
	}
}

// A heading stands over the first part of all, of a group, and of a family after another;
// over any other part the same word is the player's (mola-guidelines).
func TestWhoHeadsTheSystem(t *testing.T) {
	t.Parallel()
	const start = `<part-group type="start" number="1"/>`
	for _, row := range []struct {
		why, before, said string // what stands before the oboe's entry, and who says the word
		want              bool
	}{
		{"the first of all", "", "Flute", true}, {"the second of a family", "", "Oboe", false}, {"the first of a group", start, "Oboe", true},
		{"behind the end of a group", `<part-group type="stop" number="1"/>`, "Oboe", false}, {"the first of another family", "", "Violin", true},
		{"the second of a group", start, "Bassoon", false},
		{"nobody knows what", "", "Quayphone", false},
	} {
		var list []miniPart
		for _, name := range []string{"Flute", "Oboe", "Bassoon", "Violin", "Quayphone", "Cello"} {
			music := whole
			if name == row.said {
				music = words("Maestoso") + whole
			}
			list = append(list, miniPart{name, []string{music}})
		}
		text := strings.Replace(miniText(list...), `<score-part id="P2">`, row.before+`<score-part id="P2">`, 1)
		made := makeMini(t, scoreFrom(t, text), 5, parts.DefaultOptions())
		assert.Equal(t, row.want, strings.Contains(roadText(made.Document), "Maestoso"), row.why)
	}
}

// What belongs to a mark's place in its own part stays there when it is copied: ids,
// positions, voice, staff, edition's notes, what listens and what a divided voice sounds
// (MusicXML 4.0, direction, harmony, barline, sound).
func TestMarksAreCopiedBare(t *testing.T) {
	t.Parallel()
	quarters := strings.Repeat(quarter, 4)
	for _, row := range []struct{ name, top, own, path, want string }{
		{"a direction", `<direction id="d" system="only-top" placement="above"><direction-type id="t"><words default-x="12" id="w">Presto</words></direction-type>` +
			`<offset sound="yes">1</offset><footnote>x</footnote><level>y</level><voice>1</voice><staff>1</staff><sound tempo="120" dynamics="80" time-only="1" id="s"/><listening><sync type="none"/></listening></direction>` + quarters,
			quarters, "//direction", `<direction placement="above"><direction-type><words>Presto</words></direction-type><sound tempo="120" time-only="1"/></direction>`},
		{"the old directive", strings.Replace(opening, "</attributes>", `<directive default-y="5">Allegro</directive></attributes>`, 1) + whole, whole, "//direction",
			`<direction placement="above" directive="yes"><direction-type><words>Allegro</words></direction-type></direction>`},
		{"a chord symbol", `<harmony id="h" system="also-top" default-y="20"><root><root-step>C</root-step></root><kind>major</kind><offset>1</offset><footnote>x</footnote><level>y</level><staff>1</staff></harmony>` + whole,
			quarters, "//harmony", `<harmony><root><root-step>C</root-step></root><kind>major</kind><offset>1</offset></harmony>`},
		{"a bar line", whole + `<barline location="right" divisions="4" id="b"><bar-style>light-light</bar-style><footnote>x</footnote><level>y</level><wavy-line type="stop"/><ending number="1" type="stop" system="only-top"/></barline>`,
			whole, "//barline", `<barline location="right"><bar-style>light-light</bar-style><ending number="1" type="stop"/></barline>`},
		{"a time signature", strings.Replace(opening, "<time>", `<time number="1" id="m">`, 1) + whole, strings.Replace(opening, "<time><beats>4</beats><beat-type>4</beat-type></time>", "", 1) + whole,
			"//time", `<time><beats>4</beats><beat-type>4</beat-type></time>`},
		{"a playback of its own divisions", `<sound tempo="60" divisions="1"/>` + whole, strings.Replace(opening, "<divisions>1", "<divisions>4", 1) + strings.Replace(whole, "<duration>4", "<duration>16", 1),
			"//sound", `<sound tempo="60" divisions="4"/>`},
		{"a playback for one that has no divisions yet", `<sound tempo="60"/>` + whole, strings.Replace(opening, "<divisions>1</divisions>", "", 1), "//divisions", "<divisions>1</divisions>"},
		{"swing", `<sound tempo="60" dynamics="90"><swing><straight/></swing></sound>` + whole, whole, "//sound", `<sound tempo="60"><swing><straight/></swing></sound>`},
		{"swing, where the tempo is known", `<sound tempo="60"><swing><straight/></swing></sound>` + whole, `<sound tempo="60"/>` + whole, "//sound[swing]", `<sound><swing><straight/></swing></sound>`},
	} {
		score := miniScore(t, miniPart{"Flute", []string{row.top}}, miniPart{"Cello", []string{row.own}})
		e := makeMini(t, score, 1, parts.DefaultOptions()).Document.FindElement(row.path)
		if assert.NotNil(t, e, row.name) {
			doc := etree.NewDocument()
			doc.SetRoot(e.Copy())
			doc.Unindent()
			text, err := doc.WriteToString()
			assert.NoError(t, err)
			assert.Equal(t, row.want, strings.TrimSpace(text), row.name)
		}
	}
}

// A line comes under a number that no line of its kind has in the part, with both its ends
// (MusicXML 4.0, number-level); its end keeps to the side on which the line is.
func TestLinesAreNumberedAnew(t *testing.T) {
	t.Parallel()
	line := func(kind, number, text string) []string {
		return []string{direction(`placement="below"`, dtype("<words>"+text+"</words>")+dtype(`<`+kind+` type="start" number="`+number+`"/>`), ""),
			direction("", dtype(`<`+kind+` type="stop" number="`+number+`"/>`), "")}
	}
	rit, own := line("dashes", "1", "rit."), line("dashes", "1", "cresc.")
	bracket := line("bracket", "2", "dim.")
	score := miniScore(t, miniPart{"Flute", []string{rit[0] + whole, half + rit[1] + half}},
		miniPart{"Cello", []string{own[0] + bracket[0] + whole, whole + own[1] + bracket[1]}})
	made := makeMini(t, score, 1, parts.DefaultOptions())
	var got []string
	for _, d := range made.Document.FindElements("//direction") {
		if e := d.FindElement("direction-type/dashes"); e != nil {
			got = append(got, strings.TrimSpace(musicxml.ChildText(d, "words")+e.SelectAttrValue("type", "")+" "+e.SelectAttrValue("number", "")+" "+d.SelectAttrValue("placement", "")))
		}
	}
	assert.Equal(t, []string{"start 2 below", "start 1 below", "stop 2 below", "stop 1"}, got)
}

// bars fills up with whole notes.
func bars(measures []string, n int) []string {
	filled := append([]string{}, measures...)
	for len(filled) < n {
		filled = append(filled, whole)
	}
	return filled
}

// A mark on a beat that the part's divisions cannot count makes them finer; nothing
// else changes (MusicXML 4.0, divisions).
func TestMarksAtFineBeats(t *testing.T) {
	t.Parallel()
	triplets := strings.Replace(opening, "<divisions>1<", "<divisions>3<", 1)
	third := strings.NewReplacer("<duration>1<", "<duration>2<", "</type>", "</type><time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>").Replace(quarter)
	score := miniScore(t,
		miniPart{"Flute", []string{triplets + third + words("rit.") + third + third + strings.Replace(half, "<duration>2<", "<duration>6<", 1)}},
		miniPart{"Cello", []string{whole}})
	sheet := makeMini(t, score, 1, parts.DefaultOptions())
	assert.Equal(t, `1 4/4 "rit." @2`, roadText(sheet.Document), "two thirds of a quarter note in")
	assert.Equal(t, "3", sheet.Document.FindElement("//divisions").Text())
	assert.Equal(t, "12", sheet.Document.FindElement("//note/duration").Text())
}

// Marks of a part on two staves stand over the upper one.
func TestMarksOverTwoStaves(t *testing.T) {
	t.Parallel()
	piano := strings.Replace(opening, "<clef>", `<staves>2</staves><clef number="1">`, 1)
	piano = strings.Replace(piano, "</attributes>", `<clef number="2"><sign>F</sign><line>4</line></clef></attributes>`, 1)
	hands := strings.Replace(whole, "</type>", "</type><staff>1</staff>", 1) + "<backup><duration>4</duration></backup>" +
		strings.NewReplacer("</type>", "</type><staff>2</staff>", "<voice>1<", "<voice>5<", "<octave>4<", "<octave>3<").Replace(whole)
	score := miniScore(t, miniPart{"Flute", []string{words("Lento") + whole}}, miniPart{"Piano", []string{piano + hands}})
	sheet := makeMini(t, score, 1, parts.DefaultOptions())
	d := sheet.Document.FindElement("//direction")
	assert.Equal(t, "1", d.SelectElement("staff").Text())
}

// A chord symbol of the whole system is written for the reader: sounding D is
// written E for the clarinet in B flat (trade/transpositions.csv).
func TestSystemHarmonyIsWrittenForTheReader(t *testing.T) {
	t.Parallel()
	chord := `<harmony system="only-top"><root><root-step>D</root-step></root><kind>major</kind><bass><bass-step>F</bass-step><bass-alter>1</bass-alter></bass></harmony>`
	own := `<harmony><root><root-step>A</root-step></root><kind>major</kind></harmony>`
	score := miniScore(t, miniPart{"Flute", []string{chord + whole, own + whole}}, miniPart{"Clarinet in Bb", []string{whole, whole}})
	sheet := makeMini(t, score, 1, parts.DefaultOptions())
	harmonies := sheet.Document.FindElements("//harmony")
	assert.Len(t, harmonies, 1, "the flute's own chord stays with the flute")
	assert.Equal(t, "E", harmonies[0].FindElement("root/root-step").Text())
	assert.Equal(t, "G", harmonies[0].FindElement("bass/bass-step").Text())
	assert.Equal(t, "1", harmonies[0].FindElement("bass/bass-alter").Text())
	assert.Empty(t, harmonies[0].SelectAttrValue("system", ""))

	// And the other way: written D over the clarinet sounds C (trade/transpositions.csv).
	clarinet := strings.Replace(opening, "</attributes>", "<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose></attributes>", 1)
	score = miniScore(t, miniPart{"Clarinet in Bb", []string{clarinet + chord + whole}}, miniPart{"Flute", []string{whole}})
	assert.Equal(t, "C", makeMini(t, score, 1, parts.DefaultOptions()).Document.FindElement("//harmony/root/root-step").Text())
	assert.Equal(t, "D", makeMini(t, score, 0, parts.DefaultOptions()).Document.FindElement("//harmony/root/root-step").Text(), "the clarinet's own stays")
}

// Time signatures that another part states reach this one, unless it goes its own
// way.
func TestMetresReachAnotherPart(t *testing.T) {
	t.Parallel()
	threeFour := `<attributes><time><beats>3</beats><beat-type>4</beat-type></time></attributes>`
	three := strings.NewReplacer("<duration>4<", "<duration>3<", "<type>whole</type>", "<type>half</type><dot/>").Replace(whole)
	score := miniScore(t, miniPart{"Flute", []string{whole, threeFour + three}}, miniPart{"Cello", []string{whole, three}})
	assert.Equal(t, "1 4/4\n2 3/4", roadText(makeMini(t, score, 1, parts.DefaultOptions()).Document))

	sixEight := strings.NewReplacer("<beats>4", "<beats>12", "<beat-type>4", "<beat-type>8", "<divisions>1", "<divisions>2").Replace(opening)
	long := strings.NewReplacer("<duration>4<", "<duration>12<", "</type>", "</type><dot/>").Replace(whole)
	score = miniScore(t, miniPart{"Flute", []string{whole, threeFour + three}}, miniPart{"Cello", []string{sixEight + long, long}})
	assert.Equal(t, "1 12/8", roadText(makeMini(t, score, 1, parts.DefaultOptions()).Document), "a part in another metre is left alone")
}

// Bar lines that are drawn for one staff are not spread; of two styles the one that
// says more wins.
func TestBarlinesReachAnotherPart(t *testing.T) {
	t.Parallel()
	tests := []struct{ name, top, own, want string }{
		{"a double bar", `<barline><bar-style>light-light</bar-style></barline>`, ``, "1 4/4 ||"},
		{"no line", `<barline><bar-style>none</bar-style></barline>`, ``, "1 4/4"},
		{"a tick", `<barline><bar-style>tick</bar-style></barline>`, ``, "1 4/4"},
		{"a double bar over no line", `<barline><bar-style>light-light</bar-style></barline>`, `<barline><bar-style>none</bar-style></barline>`, "1 4/4 ||"},
		{"a dashed line under a double bar", `<barline><bar-style>dashed</bar-style></barline>`, `<barline><bar-style>light-light</bar-style></barline>`, "1 4/4 ||"},
		{"a repeat added to a plain line", `<barline><bar-style>light-heavy</bar-style><repeat direction="backward"/></barline>`, `<barline><bar-style>light-heavy</bar-style></barline>`, "1 4/4 ||| :|"},
		{"a repeat that is there", `<barline><repeat direction="backward" times="3"/></barline>`, `<barline><repeat direction="backward"/></barline>`, "1 4/4 :|"},
		{"a wavy line", `<barline><bar-style>regular</bar-style><wavy-line type="continue"/></barline>`, ``, "1 4/4"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			right := strings.NewReplacer("<barline>", `<barline location="right">`)
			score := miniScore(t, miniPart{"Flute", []string{whole + right.Replace(tt.top)}}, miniPart{"Cello", []string{whole + right.Replace(tt.own)}})
			assert.Equal(t, tt.want, roadText(makeMini(t, score, 1, parts.DefaultOptions()).Document))
		})
	}
}

// Every change of metre stands in every part once, where it is, and printed: parts may state
// it in turn, late, again, or hide it (musicxml-coverage, 2; spnm). A part in a metre of its
// own is left alone. "(3/4)" is hidden, a blank bar states nothing.
func TestMetresInTurn(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ why, top, own, want string }{
		{"the other part alone", "4/4 3/4 -", "4/4 - -", "4/4 3/4 -"}, {"this part alone", "4/4 - -", "4/4 3/4 -", "4/4 3/4 -"},
		{"both", "4/4 3/4 -", "4/4 3/4 -", "4/4 3/4 -"}, {"this part says it late", "4/4 3/4 - -", "4/4 - 3/4 -", "4/4 3/4 - -"},
		{"in turn", "4/4 3/4 - -", "4/4 - 2/4 -", "4/4 3/4 2/4 -"}, {"hidden here, printed there", "4/4 3/4 -", "4/4 (3/4) -", "4/4 3/4 -"},
		{"hidden in both", "4/4 (3/4) -", "4/4 (3/4) -", "4/4 (3/4) -"}, {"hidden there alone", "4/4 (3/4) -", "4/4 - -", "4/4 (3/4) -"},
		{"another metre here from the start", "4/4 3/4 -", "2/4 - -", "2/4 - -"}, {"said again", "4/4 4/4 -", "4/4 - -", "4/4 - -"},
		{"its own again", "4/4 - -", "4/4 4/4 -", "4/4 4/4 -"},
	} {
		var list []miniPart
		for i, text := range []string{row.top, row.own} {
			var bars []string
			for _, metre := range strings.Fields(text) {
				bars = append(bars, metreOf(metre)+whole)
			}
			list = append(list, miniPart{[]string{"Flute", "Cello"}[i], bars})
		}
		made := makeMini(t, miniScore(t, list...), 1, parts.DefaultOptions())
		var got []string
		for _, m := range made.Document.FindElements("//measure") {
			said := "-"
			for _, time := range m.FindElements("attributes/time") {
				said = strings.TrimPrefix(said+" ", "- ") + musicxml.ChildText(time, "beats") + "/" + musicxml.ChildText(time, "beat-type")
				if time.SelectAttrValue("print-object", "") == "no" {
					said = "(" + said + ")"
				}
			}
			got = append(got, said)
		}
		assert.Equal(t, row.want, strings.Join(got, " "), row.why)
	}
}

// metreOf is an <attributes> with a time signature, "" for "-".
func metreOf(text string) string {
	if text == "-" {
		return ""
	}
	beats, unit, _ := strings.Cut(strings.Trim(text, "()"), "/")
	hidden := map[bool]string{true: ` print-object="no"`}[text[0] == '(']
	return `<attributes><divisions>1</divisions><time` + hidden + `><beats>` + beats + `</beats><beat-type>` + unit + `</beat-type></time></attributes>`
}

// Gradual words that are drawn over the bars, syllable by syllable, as they are divided in
// Italian: every syllable reaches the other parts.
func TestDrawnWords(t *testing.T) {
	t.Parallel()
	for _, word := range []string{"ral-len-tan-do", "rallen-tan-do", "rallenta-ndo", "rallentan-do", "ritar-dan-do", "ritardan-do", "accele-ran-do", "accelera-ndo", "acceleran-do",
		"allar-gan-do", "allarga-ndo", "allargan-do", "strin-gen-do", "stringen-do"} {
		var top, own []string
		want := ""
		for i, syllable := range strings.Split(word, "-") {
			if i < strings.Count(word, "-") {
				syllable += "-"
			}
			if syllable == "ndo" {
				syllable = "do"
			}
			top, own = append(top, words(syllable)+whole), append(own, whole)
			want += map[bool]string{true: "1 4/4", false: "\n" + string(rune('1'+i))}[i == 0] + ` "` + syllable + `"`
		}
		made := makeMini(t, miniScore(t, miniPart{"Flute", top}, miniPart{"Cello", own}), 1, parts.DefaultOptions())
		assert.Equal(t, want, roadText(made.Document), word)
	}
}
