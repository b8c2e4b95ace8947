package system

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
)

// What in one part may hold for everybody, a mark in brackets: its bar and beat (from 0), where it
// is printed if that is elsewhere, what it says, ! at the head of a system alone, # the number of a
// movement, the line that it goes on with.
func TestGather(t *testing.T) {
	t.Parallel()
	dir := func(attributes, types, rest string) string {
		return ` <direction ` + attributes + `>` + types + rest + `</direction> `
	}
	typed := func(inner string) string { return `<direction-type>` + inner + `</direction-type>` }
	said := func(text string) string { return typed(`<words>` + text + `</words>`) }
	const q, dashes, stop, top, bpm = " E5 E5 E5 E5", `<dashes type="start"/>`, `<direction><direction-type><dashes type="stop"/></direction-type></direction>`, `system="only-top"`,
		`<metronome><beat-unit>half</beat-unit><per-minute>60</per-minute></metronome>`
	for _, row := range []struct{ why, music, want string }{
		{"a tempo word in a bar", `E5 E5 "rit." E5 E5`, "0@2 words"},
		{"a player's word", `"pizz."` + q, ""},
		{"nothing", dir("", said(""), "") + q, ""},
		{"a shade of another word", `"molto"` + q, ""},
		{"a pause in words", `"G.P."` + q, "0@0 words"},
		{"the way through the piece", `"D.C. al Fine"` + q, "0@0 words"},
		{"seen later than it stands", dir("", said("rit."), "<offset>48</offset>") + q, "0@0 seen 2 words"},
		{"and sounding there", dir("", said("rit."), `<offset sound="yes">48</offset>`) + q, "0@2 words"},
		{"of the system", dir(top, said("x"), "") + q, "0@0 words"},
		{"of the system and its top", dir(`system="also-top"`, said("x"), "") + q, "0@0 words"},
		{"of one part", dir(`system="none"`, said("rit."), "") + q, ""},
		{"of one part, but played for everybody", dir(`system="none"`, said("rit."), `<sound tempo="60"/>`) + q, "0@0 tempo words"},
		{"a player's word that is played", dir("", said("arco"), `<sound tempo="60"/>`) + q, "0@0 tempo"},
		{"beside a metronome mark", dir("", said("with a limp")+typed(bpm), "") + q, "0@0 metronome words"},
		{"a player's word beside a metronome mark", dir("", said("arco")+typed(bpm), "") + q, "0@0 metronome"},
		{"words for the head of a system", `E5 | "Trio"` + q, "1@0 words!"},
		{"the same inside a bar", `E5 "Trio" E5 E5 E5`, ""},
		{"the same under the staff", dir(`placement="below"`, said("Trio"), "") + q, ""},
		{"a heading in small letters", `"maestoso"` + q, ""},
		{"a heading in brackets", `"(Maestoso)"` + q, "0@0 words!"},
		{"bold words without a letter or number", dir("", typed(`<words font-weight="bold">?!</words>`), "") + q, ""},
		{"bold words in small letters", dir("", typed(`<words font-weight="bold">with a limp</words>`), "") + q, ""},
		{"bold words", dir("", typed(`<words font-weight="bold">With a limp</words>`), "") + q, "0@0 words!"},
		{"bold words behind a note", `E5 ` + dir("", typed(`<words font-weight="bold">With a limp</words>`), ""), ""},
		{"a metronome mark in letters", `E5 "M.M. = 60" E5`, "0@1 words"},
		{"a symbol of the system", dir(top, typed(`<symbol>lyricsHyphenBaseline</symbol>`), "") + q, "0@0 other"},
		{"a symbol of a part", dir("", typed(`<symbol>lyricsHyphenBaseline</symbol>`), "") + q, ""},
		{"dynamics of the system", dir(top, typed(`<dynamics><f/></dynamics>`), "") + q, "0@0 other"},
		{"dynamics of a part", "!f" + q, ""},
		{"a hairpin of the system, which cannot be copied alone", dir(top, typed(`<wedge type="crescendo"/>`), "") + q, ""},
		{"a pedal of the system", dir(top, typed(`<pedal type="start"/>`), "") + q, ""},
		{"an octave line of the system", dir(top, typed(`<octave-shift type="up"/>`), "") + q, ""},
		{"a voice's line of the system", dir(top, typed(`<principal-voice type="start"/>`), "") + q, ""},
		{"a bracket of the system", dir(top, typed(`<bracket type="start" line-end="none"/>`), "") + q, ""},
		{"dashes of the system", dir(top, typed(dashes), "") + q, ""},
		{"signs and letters", dir("", typed("<segno/>"), "") + "E5 E5 " + dir("", typed("<coda/>"), "") + "E5 E5 | " + dir("", typed("<rehearsal>A</rehearsal>"), "") + q, "0@0 segno, 0@2 coda, 1@0 rehearsal"},
		{"an empty beat of a metronome mark", dir("", typed(`<metronome><beat-unit/><per-minute>60</per-minute></metronome>`), "") + q, ""},
		{"an empty direction type", dir("", `<direction-type/>`, "") + q, ""},
		{"playback", `E5 <sound tempo="60" coda="a" dacapo="yes" dynamics="5"><swing><straight/></swing></sound> E5 E5 E5 <sound pizzicato="yes"/>`, "0@1 tempo jump swing"},
		{"the directive of an older version", `[key 0] E5 <attributes><directive>Allegro</directive><directive>a 2</directive></attributes> E5 <attributes><directive>Maestoso</directive><directive>rit.</directive></attributes> E5 E5`, "0@1 words, 0@2 words, 0@2 words"},
		{"a chord symbol of the system", `E5 <harmony system="also-top"><root><root-step>C</root-step></root><kind>major</kind><offset>24</offset></harmony> E5 E5 E5`, "0@1 seen 2 harmony"},
		{"a chord symbol of a part", `<harmony system="none"><root><root-step>C</root-step></root><kind>major</kind></harmony>` + q, ""},
		{"syllables of a word", `"ral" E5:w | "len" E5:w | "x" E5:w | "do" E5:w`, "0@0 words, 1@0 words, 3@0 words"},
		{"syllables of a word that is over", `"rit." E5:w | "do" E5:w`, "0@0 words"},
		{"eight bars on", `"ral" E5:w` + strings.Repeat(" | E5:w", 7) + ` | "do" E5:w`, "0@0 words, 8@0 words"},
		{"nine bars on", `"ral" E5:w` + strings.Repeat(" | E5:w", 8) + ` | "do" E5:w`, "0@0 words"},
		{"each syllable a few bars on", `"ral" E5:w` + strings.Repeat(" | E5:w", 7) + ` | "len" E5:w` + strings.Repeat(" | E5:w", 7) + ` | "do" E5:w`, "0@0 words, 8@0 words, 16@0 words"},
		{"one movement's number", `"II." "Allegro"` + q, "0@0 words"},
		{"a line", dir("", said("rit.")+typed(dashes), "") + ` E5 E5 | E5 ` + stop + ` E5`, "0@0 words line to 1@1"},
		{"a line in a direction of its own", `"rit." ` + dir("", typed(dashes), "") + ` E5 E5 | E5 ` + stop + ` E5`, "0@0 words line to 1@1"},
		{"elsewhere", `"rit." E5 ` + dir("", typed(dashes), "") + ` E5 | E5 ` + stop + ` E5`, "0@0 words"},
		{"with something else", `"rit." ` + dir("", typed(dashes)+typed("<dynamics><f/></dynamics>"), "") + ` E5 E5 | E5 ` + stop + ` E5`, "0@0 words"},
		{"after what has no words", dir("", typed("<segno/>"), "") + " " + dir("", typed(dashes), "") + ` E5 E5 | E5 ` + stop, "0@0 segno"},
		{"after a playback tempo", `<tempo 60> ` + dir("", typed(dashes), "") + ` E5 E5 | E5 ` + stop, "0@0 tempo"},
		{"a second line in its place", dir("", said("rit.")+typed(dashes), "") + dir("", typed(`<bracket type="start" line-end="none"/>`), "") + ` E5 ` + stop + ` E5 <direction><direction-type><bracket type="stop" line-end="none"/></direction-type></direction>`, "0@0 words line to 0@1"},
		{"a line that stops under another number", dir("", said("rit.")+typed(`<dashes type="start" number="2"/>`), "") + ` E5 ` + stop + ` E5`, "0@0 words"},
		{"a line of another kind that stops", dir("", said("rit.")+typed(dashes), "") + ` E5 <direction><direction-type><bracket type="stop" line-end="none"/></direction-type></direction> E5`, "0@0 words"},
		{"a line that stops beside other words", dir("", said("rit.")+typed(dashes), "") + " E5 " + dir("", said("a tempo")+typed(`<dashes type="stop"/>`), "") + " E5", "0@0 words line to 0@1, 0@1 words"},
		{"two lines that start together", dir("", said("rit.")+typed(dashes)+typed(`<bracket type="start" line-end="none"/>`), "") + " E5 " + stop + ` E5 <direction><direction-type><bracket type="stop" line-end="none"/></direction-type></direction>`, "0@0 words line to 0@1"},
		{"words in two pieces", `E5 ` + dir("", said("Da")+said("Capo"), "") + ` E5`, "0@1 words"},
		{"lines inside each other", dir("", said("rit.")+typed(`<dashes type="start" number="2"/>`), "") + " E5 " + dir("", said("allarg.")+typed(dashes), "") + " E5 " + stop + ` E5 <direction><direction-type><dashes type="stop" number="2"/></direction-type></direction>`,
			"0@0 words line to 0@3, 0@1 words line to 0@2"},
		{"a number over and over", dir("", said("rit.")+typed(dashes), "") + " E5 " + stop + dir("", said("allarg.")+typed(dashes), "") + " E5 " + stop, "0@0 words line to 0@1, 0@1 words line to 0@2"},
	} {
		assert.Equal(t, row.want, marksText(gathered(t, row.music)), row.why)
	}
}

func gathered(t *testing.T, music string) *PartMarks {
	t.Helper()
	timeline, err := musicxml.NewTimeline(shorthand.Part(t, music))
	require.NoError(t, err)
	return Gather(timeline, glossary(t), false)
}

func marksText(p *PartMarks) string {
	names := []string{"words", "metronome", "rehearsal", "segno", "coda", "tempo", "jump", "swing", "harmony", "other"}
	var all []string
	for _, m := range p.marks {
		text := fmt.Sprintf("%d@%s", m.Measure, m.Onset)
		if m.seen != m.Onset {
			text += " seen " + m.seen.String()
		}
		for _, s := range m.says {
			for i, name := range names {
				if s.facet == 1<<i {
					text += " " + name + map[bool]string{true: "!"}[s.leading] + map[bool]string{true: "#"}[s.movement]
				}
			}
		}
		if m.line != nil {
			text += fmt.Sprintf(" line to %d@%s", m.line.to.Measure, m.line.to.Onset)
		}
		all = append(all, text)
	}
	return strings.Join(all, ", ")
}

// What may be a heading by its letters, the number of a movement, a metronome mark that was
// typed (the signs of notes in Unicode and in SMuFL 1.4, metronomeMarks and individualNotes).
func TestHowWordsLook(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]bool{"Allegro": true, "allegro": false, "(Allegro)": true, "1. Satz": true, "1. satz": false, "": false, "12": false} {
		assert.Equal(t, want, startsWithCapital(text), text)
	}
	for text, want := range map[string]bool{"I.": true, " IV ": true, "XII": true, "": false, "I. Allegro": false, "Violin I": false, "1.": false, "i.": false, "I..": false} {
		assert.Equal(t, want, movementNumber(text), text)
	}
	for text, want := range map[string]bool{"M.M. 60": true, "M. M. 60": true, "MM 60": false, "♩": false, "♭=": false, "\U0001D165=": false, "\uE1CF=": false, "\uE1F0=": false, "\uEC9F=": false, "\uECC0=": false,
		"♩ = 60": true, "♩. = ca. 60": true, "♬=": true, "\U0001D15C=": true, "\U0001D164=": true, "\uE1D0=": true, "\uE1EF=": true, "\uECA0=": true, "\uECBF=": true, "= 60": false} {
		assert.Equal(t, want, drawnMetronome(text), "%+q", text)
	}
	for inner, want := range map[string]bool{`<direction-type><words font-weight="bold">a</words></direction-type>`: true, `<direction-type><words>a</words></direction-type>`: false, `<direction-type><words/></direction-type>`: false,
		`<direction-type><words/></direction-type><direction-type><words font-weight="bold">a</words></direction-type>`:                   true,
		`<direction-type><words font-weight="bold">a</words></direction-type><direction-type><words>a</words></direction-type>`:           false,
		`<direction-type><words font-weight="bold">a</words><words font-weight="normal">b</words></direction-type>`:                       false,
		`<direction-type><segno/></direction-type><direction-type><words font-weight="bold">a</words></direction-type><offset>1</offset>`: true} {
		assert.Equal(t, want, boldWords(document(t, `<direction>`+inner+`</direction>`).Root()), inner)
	}
}

// A part's own marks are only compared: nothing of them is copied, and a chord symbol counts
// whomever it is for.
func TestGatherOwn(t *testing.T) {
	t.Parallel()
	timeline, err := musicxml.NewTimeline(shorthand.Part(t, `"rit." <harmony><root><root-step>C</root-step></root><kind>major</kind></harmony> <tempo 60> E5? <sound dacapo="yes"/> E5 <attributes><directive>Allegro</directive></attributes> E5 E5 <barline><bar-style>light-light</bar-style></barline>`))
	require.NoError(t, err)
	own := Gather(timeline, glossary(t), true)
	assert.Equal(t, "0@0 words, 0@0 harmony, 0@0 tempo, 0@1 jump, 0@2 words", marksText(own))
	for _, m := range own.marks {
		assert.Nil(t, m.direction)
		assert.Nil(t, m.sound)
		assert.Nil(t, m.harmony)
	}
	assert.Empty(t, own.barlines)
	assert.Len(t, own.pauses, 1)
	assert.Nil(t, own.pauses[0].element)
}

// The numbers of movements: each beside a tempo and a metre, two of them at least.
func TestNumbersOfMovements(t *testing.T) {
	t.Parallel()
	const time = ` <attributes><time><beats>4</beats><beat-type>4</beat-type></time></attributes> `
	for _, row := range []struct{ why, second, want string }{
		{"words", time + `"II." "Adagio" E5:w`, "1@0 words!#, 1@0 words"}, {"a heading", time + `"II." "Maestoso" E5:w`, "1@0 words!#, 1@0 words!"}, {"a metronome mark before it", `<direction><direction-type><metronome><beat-unit>half</beat-unit><per-minute>60</per-minute></metronome></direction-type></direction> ` + time + ` "II." E5:w`, "1@0 metronome, 1@0 words!#"},
		{"no metre", `"II." "Adagio" E5:w`, "-1@0 words"}, {"a metre later in the bar", `"II." "Adagio" E5:h ` + time + ` E5:h`, "-1@0 words"}, {"a tempo later in the bar", time + `"II." E5:h "Adagio" E5:h`, "-1@2 words"},
		{"no tempo", time + `"II." E5:w`, "-"}, {"an expression", time + `"II." "dolce" E5:w`, "-"}, {"in the middle of a bar", time + `"Adagio" E5:h "II." E5:h`, "-1@0 words"},
		{"attributes without a metre", `[key 2] "II." "Adagio" E5:w`, "-1@0 words"}, {"in the second voice", `"Adagio" E5:w << ` + time + ` "II." C5:w`, "-1@0 words"},
		{"under the staff", time + `<direction placement="below"><direction-type><words>II.</words></direction-type></direction> "Adagio" E5:w`, "-1@0 words"},
	} {
		want := "0@0 words!#, 0@0 words, " + row.want
		if row.want[0] == '-' { // then the first is alone
			want = strings.TrimSuffix("0@0 words, "+row.want[1:], ", ")
		}
		assert.Equal(t, want, marksText(gathered(t, `"I." "Allegro" E5:w | `+row.second)), row.why)
	}
}
