package condense

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/internal/draft"
)

func laid(t *testing.T, music string) *musicxml.Timeline {
	t.Helper()
	timeline, err := musicxml.NewTimeline(shorthand.Part(t, music))
	require.NoError(t, err)
	return timeline
}

// TestKinds: how players share a bar, by hand (part-preparation, 7): one staff line where they
// have the same, chords where only the pitch differs and each lies below the one before, else
// a voice for each.
func TestKinds(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		why   string
		music []string
		want  kind
	}{
		{"nobody", []string{"R", "r:h r:h"}, silent},
		{"the first", []string{"C5:w", "R"}, alone},
		{"the second", []string{"R", "C5:w"}, alone + 1},
		{"the third of three", []string{"R", "R", "C5:w"}, alone + 2},
		{"two of three", []string{"C5:w", "C5:w", "R"}, voices},
		{"the same", []string{"C5:h D5:h", "C5:h D5:h"}, unison},
		{"three alike", []string{"C5:w", "C5:w", "C5:w"}, unison},
		{"thirds", []string{"E5:h F5:h", "C5:h D5:h"}, chords},
		{"three below each other", []string{"G5:w", "E5:w", "C5:w"}, chords},
		{"the second above", []string{"C5:h D5:h", "E5:h F5:h"}, voices},
		{"the third above the second", []string{"G5:w", "C5:w", "E5:w"}, voices},
		{"crossing later", []string{"E5:h C5:h", "C5:h D5:h"}, voices},
		{"meeting on one note", []string{"E5:h D5:h", "C5:h D5:h"}, voices},
		{"an octave apart", []string{"C5:w", "C4:w"}, chords},
		{"the same letter with another sign", []string{"C#5:w", "C5:w"}, voices},
		{"another rhythm", []string{"E5:w", "C5:h D5:h"}, voices},
		{"a rest in one", []string{"E5:h F5:h", "C5:h r:h"}, voices},
		{"rests in both", []string{"E5:h r:h", "C5:h r:h"}, chords},
		{"another articulation", []string{"E5:h. F5:h", "C5:h D5:h"}, voices},
		{"the same articulation", []string{"E5:h. F5:h", "C5:h. D5:h"}, chords},
		{"a slur in one", []string{"E5:h( F5:h)", "C5:h D5:h"}, voices},
		{"a slur in both", []string{"E5:h( F5:h)", "C5:h( D5:h)"}, chords},
		{"a slur that begins against one that ends", []string{"E5:h( F5:h)", "C5:h) D5:h("}, voices},
		{"two slurs at a note", []string{"C5:h«<slur·type=\"start\"·number=\"1\"/><slur·type=\"start\"·number=\"2\"/>» D5:h«<slur·type=\"stop\"·number=\"1\"/><slur·type=\"stop\"·number=\"2\"/>»", "C5:h«<slur·type=\"start\"·number=\"1\"/><slur·type=\"start\"·number=\"2\"/>» D5:h«<slur·type=\"stop\"·number=\"1\"/><slur·type=\"stop\"·number=\"2\"/>»"}, voices},
		{"two beginnings at a note, that lead on", []string{"C5:h«<slur·type=\"start\"·number=\"1\"/><slur·type=\"start\"·number=\"2\"/>» D5:h", "C5:h«<slur·type=\"start\"·number=\"1\"/><slur·type=\"start\"·number=\"2\"/>» D5:h"}, voices},
		{"two ends at a note", []string{"C5:h D5:h«<slur·type=\"stop\"·number=\"1\"/><slur·type=\"stop\"·number=\"2\"/>»", "C5:h D5:h«<slur·type=\"stop\"·number=\"1\"/><slur·type=\"stop\"·number=\"2\"/>»"}, voices},
		{"an end and a beginning", []string{"C5:h D5:h«<slur·type=\"stop\"·number=\"1\"/><slur·type=\"start\"·number=\"2\"/>»", "C5:h D5:h«<slur·type=\"stop\"·number=\"1\"/><slur·type=\"start\"·number=\"2\"/>»"}, unison},
		{"other beams", []string{"E5:e{ F5:e} G5:q G5:h", "C5:e D5:e E5:q E5:h"}, voices},
		{"another syllable", []string{"E5:w'la'", "C5:w'lo'"}, voices},
		{"the same syllable", []string{"E5:w'la'", "C5:w'la'"}, chords},
		{"a syllable of another verse", []string{verse("1", "E"), verse("2", "C")}, voices},
		{"a syllable of the same verse", []string{verse("2", "E"), verse("2", "C")}, chords},
		{"ties of one alone", []string{"E5:w~", "C5:w"}, chords},
		{"the same note, tied in one", []string{"C5:w~", "C5:w"}, voices},
		{"grace notes", []string{"g!F5:e E5:w", "g!D5:e C5:w"}, voices},
		{"the same grace notes", []string{"g!F5:e E5:w", "g!F5:e E5:w"}, unison},
		{"a triplet against plain notes", []string{"E5:qt F5:qt G5:qt G5:h", "C5 D5 E5:h"}, voices},
		{"at other times", []string{"E5:h _:h", "_:h C5:h"}, voices},
		{"a rest at another time", []string{"E5:h r:h", "r:h C5:h"}, voices},
		{"another articulation at the note", []string{"E5:w«<articulations><accent/></articulations>»", "C5:w«<articulations><staccato/></articulations>»"}, voices},
		{"another ornament", []string{"E5:w«<ornaments><turn/></ornaments>»", "E5:w«<ornaments><trill-mark/></ornaments>»"}, voices},
		{"a tremolo of other strokes", []string{"E5:w«<ornaments><tremolo>2</tremolo></ornaments>»", "E5:w«<ornaments><tremolo>3</tremolo></ornaments>»"}, voices},
		{"a duplet against dotted notes", []string{duplet("<type>eighth</type><time-modification><actual-notes>2</actual-notes><normal-notes>3</normal-notes></time-modification>"), duplet("<type>eighth</type><dot/>")}, voices},
		{"small notes against played ones", []string{"C5:h E5:h", "C5:h <note><cue/><pitch><step>E</step><octave>5</octave></pitch><duration>48</duration><voice>1</voice><type>half</type></note>"}, voices},
		{"grace notes of another value", []string{"g!F5:e E5:w", "g!F5:s E5:w"}, voices},
		{"strokes without pitch", []string{"u!E5:w", "u!C5:w"}, voices},
	} {
		bars := make([]*musicxml.Measure, len(row.music))
		for i, music := range row.music {
			bars[i] = &laid(t, music).Measures[0]
		}
		assert.Equal(t, row.want, kindOf(bars), row.why)
	}
}

// verse is a whole note with a syllable of a verse.
func verse(number, step string) string {
	return "<note><pitch><step>" + step + "</step><octave>5</octave></pitch><duration>96</duration><voice>1</voice><type>whole</type><lyric number=\"" + number + "\"><text>la</text></lyric></note>"
}

// duplet is two notes in the time of three eighth notes, written so.
func duplet(written string) string {
	const note = "<note><pitch><step>C</step><octave>5</octave></pitch><duration>18</duration><voice>1</voice>"
	return note + written + "</note> " + note + written + "</note>"
}

// Bars into which a slur, tie or other line leads.
func TestBarsJoined(t *testing.T) {
	t.Parallel()
	for music, want := range map[string][]bool{
		"C5:w | D5:w": {false, false}, "C5:w( | D5:w) | E5:w": {false, true, false}, "C5:w~ | C5:w^ | E5:w": {false, true, false}, "C5:w( | D5:w | E5:w)": {false, true, true},
		"C5:w«<glissando·type=\"start\"/>» | D5:w«<glissando·type=\"stop\"/>»": {false, true}, "C5:w«<slide·type=\"start\"/>» | D5:w«<slide·type=\"stop\"/>»": {false, true},
		"C5:w«<ornaments><wavy-line·type=\"start\"/></ornaments>» | D5:w«<ornaments><wavy-line·type=\"stop\"/></ornaments>»": {false, true},
		"C5:w«<tuplet·type=\"start\"/>» | D5:w«<tuplet·type=\"stop\"/>»":                                                     {false, true}, "C5:w«<arpeggiate·type=\"start\"/>» | D5:w": {false, false}, "C5:w) | D5:w( | E5:w)": {false, false, true},
	} {
		assert.Equal(t, want, barsJoined(laid(t, music)), music)
	}
}

// TestJoin: the staff of several players, by hand. Want: each thing in a bar with its voice
// behind a stroke and its length in divisions (24 a quarter note), > ahead, < back, + a chord;
// of lines their numbers, which are four higher for each further player (MusicXML 4.0, chord,
// voice, number-level; part-preparation, 7).
func TestJoin(t *testing.T) {
	t.Parallel()
	const both, first, tempo = "!p", `"dolce"`, `<direction><direction-type><words>Allegro</words></direction-type><sound tempo="90"/></direction>`
	line := func(tag, attributes string) string {
		return `<direction><direction-type><` + tag + " " + attributes + `/></direction-type><voice>1</voice></direction> `
	}
	for _, row := range []struct {
		why   string
		music []string
		want  string
	}{
		{"chords: the lowest first, one stem", []string{"G5:h F5:h", "E5:h D5:h", "C5:h B4:h"}, "C5:48/1 +E5:48/1 +G5:48/1 B4:48/1 +D5:48/1 +F5:48/1"},
		{"a rest in chords is the lowest's", []string{"E5:h r:h", "C5:h r:h"}, "C5:48/1 +E5:48/1 r:48/1"},
		{"slurs of a chord are one", []string{"E5:h( F5:h)", "C5:h( D5:h)"}, "C5:48/1(1 +E5:48/1 D5:48/1)1 +F5:48/1"},
		{"a gap in chords", []string{"_:h F5:h", "_:h D5:h"}, ">48 D5:48/1 +F5:48/1"},
		{"what stands at a chord comes before it", []string{"E5:h !p F5:h", "C5:h !p D5:h"}, "C5:48/1 +E5:48/1 [p] D5:48/1 +F5:48/1"},
		{"who plays is said where it changes", []string{"C5:w | C5:w | R | C5:w | C5:w | C5:w | E5:w | C5:w", "C5:w | C5:w | R | C5:w | R | R | C5:w | C5:w"},
			"[a 2] C5:96/1 | C5:96/1 | r:96/1 | C5:96/1 | [1.] C5:96/1 | C5:96/1 | C5:96/1 +E5:96/1 | [a 2] C5:96/1"},
		{"three alike, then the third alone", []string{"C5:w | R", "C5:w | R", "C5:w | C4:w"}, "[a 3] C5:96/1 | [3.] C4:96/1"},
		{"the number stands at the first note", []string{"r:h g!D5:e E5:h", "R"}, "r:48/1 [1.] D5/1 E5:48/1"},
		{"after a gap", []string{"_:q E5:q _:h", "R"}, ">24 [1.] E5:24/1 >48"},
		{"the second alone: lines under numbers of its own", []string{"R", "E5:h( F5:h)«<slide·type=\"start\"·number=\"2\"/><arpeggiate·number=\"1\"/><ornaments><wavy-line·type=\"start\"·number=\"14\"/></ornaments>»"}, "[2.] E5:48/1(5 F5:48/1)5<slide6<arpeggiate1<wavy-line2"},
		{"and of the third", []string{"R", "R", "E5:w«<glissando·type=\"start\"/>»"}, "[3.] E5:96/1<glissando9"},
		{"a voice for each, stems apart", []string{"E5:h↓ E5:h!", "C5:q↑ D5:q E5:h!"}, "E5:48/1↑ E5:48/1! <96 C5:24/2↓ D5:24/2 E5:48/2!"},
		{"three voices", []string{"E5:w", "D5:h D5:h", "C5:q↑ C5:q C5:h"}, "E5:96/1 <96 D5:48/2 D5:48/2 <96 C5:24/3↓ C5:24/3 C5:48/3"},
		{"rests that the first has are hidden below", []string{"E5:q r:q r:h", "C5:q r:q r:q D5:q", "C4:e C4:e r:q r:h"}, "E5:24/1 r:24/1 r:48/1 <96 C5:24/2 r:24/2* r:24/2 D5:24/2 <96 C4:12/3 C4:12/3 r:24/3* r:48/3*"},
		{"two of three", []string{"E5:w", "R", "E5:w"}, "E5:96/1 <96 r:96/2 <96 E5:96/3"},
		{"a mark inside a note", []string{"E5:w", "C5:h !p C5:h"}, `E5:96/1 <96 C5:48/2 [below 2 2. p] C5:48/2`},
		{"and where no note begins", []string{"E5:w", `C5:q <direction><direction-type><bracket type="start"/></direction-type><offset>2</offset></direction> C5:hd`}, `E5:96/1 <96 C5:24/2 C5:72/2 <70 [below 2 2. bracketstart5] >70`},
		{"in mid-note of all", []string{"E5:w", "C5:w <backup><duration>48</duration></backup> !p <forward><duration>48</duration></forward>"}, "E5:96/1 <96 C5:96/2 <48 [below 2 2. p] >48"},
		{"an offset of the first's stays, with the mark", []string{`<direction><direction-type><dynamics><p/></dynamics></direction-type><offset>2</offset></direction> E5:w`, "C5:w"}, `[above 1 1. p @2] E5:96/1 <96 C5:96/2`},
		{"a tempo at an offset, of the second's voice", []string{"R", `<direction><direction-type><words>Allegro</words></direction-type><offset>24</offset><voice>1</voice><sound tempo="90"/></direction> E5:h E5:h`}, `[2.] E5:48/1 E5:48/1 <72 [Allegro] >72`},
		{"a player who rests, and marks of the next", []string{"E5:w | E5:w", "E5:w | R", "E5:w | !p E5:w"}, "[a 3] E5:96/1 | [below 3 3. p] E5:96/1 <96 r:96/2 <96 E5:96/3"},
		{"barlines: left first, right last", []string{`<barline location="left"/> E5:w "dolce" <barline/>`, `C5:w`}, "= E5:96/1 [above 1 1. dolce] <96 C5:96/2 ="},
		{"what is written behind the barline", []string{`E5:w <barline/> !p`, `C5:w`}, "E5:96/1 [above 1 1. p] <96 C5:96/2 ="},
		{"both have it: once, nobody's", []string{both + " E5:w", both + " C5:w"}, "[p] C5:96/1 +E5:96/1"},
		{"at another time", []string{both + " E5:h F5:h", "C5:h " + both + " D5:h"}, "[above 1 p] E5:48/1 [below 2 p] F5:48/1 <96 C5:48/2 D5:48/2"},
		{"in another bar", []string{both + " E5:w | F5:w", "C5:w | " + both + " D5:w"}, "[above 1 1. p] E5:96/1 <96 C5:96/2 | [below 2 2. p] F5:96/1 <96 D5:96/2"},
		{"said twice by one", []string{first + " " + first + " E5:w", first + " E5:w"}, "[dolce] [above 1 1. dolce] E5:96/1 <96 E5:96/2"},
		{"two of three have it", []string{both + " E5:w", both + " E5:w", "E5:w"}, "[above 1 p] [below 2 p] E5:96/1 <96 E5:96/2 <96 E5:96/3"},
		{"a tempo is everybody's", []string{tempo + " E5:w", "E5:w"}, "[Allegro] [a 2] E5:96/1"},
		{"a tempo of both stands once", []string{tempo + " R", tempo + " E5:w"}, "[Allegro] [2.] E5:96/1"},
		{"where the second plays alone and the first has none", []string{"R", tempo + " E5:w"}, "[2.] [Allegro] E5:96/1"},
		{"a tempo of the second alone where both play", []string{"E5:w", tempo + " E5:w"}, "[a 2] E5:96/1"},
		{"the first's marks are not placed where it plays alone", []string{both + " E5:w", "R"}, "[1 p] [1.] E5:96/1"},
		{"a silent player's words", []string{"E5:w", `"mit Dämpfer" R`}, `[below 2 2. mit Dämpfer] E5:96/1 <96 r:96/2`},
		{"words of the second where nobody plays", []string{"C5:w | R", `C5:w | "mit Dämpfer" R`}, "[a 2] C5:96/1 | [below 2 2. mit Dämpfer] r:96/1"},
		{"lines of the second get numbers", []string{"E5:w | E5:w", line("wedge", `type="crescendo"`) + "C5:w | " + line("wedge", `type="stop"`) + "C5:w"}, "[below 2 2. wedgecrescendo5] E5:96/1 <96 C5:96/2 | [below 2 wedgestop5] C5:96/1 +E5:96/1"},
		{"with numbers of their own", []string{"E5:w", line("dashes", `type="start" number="3"`) + line("dashes", `type="stop" number="3"`) + line("octave-shift", `type="down" number="13"`) + line("pedal", `type="start" number="1"`) + "C5:w"},
			"[below 2 2. dashesstart7] [below 2 dashesstop7] [below 2 octave-shiftdown1] [below 2 pedalstart5] E5:96/1 <96 C5:96/2"},
		{"a principal voice has none", []string{"E5:w", line("principal-voice", `type="start" symbol="none"`) + "C5:w"}, "[below 2 2. principal-voicestart] E5:96/1 <96 C5:96/2"},
		{"a principal voice that ends", []string{line("principal-voice", `type="start" symbol="none"`) + "E5:w | E5:w " + line("principal-voice", `type="stop" symbol="none"`), "C5:w | C5:w"}, "[above 1 1. principal-voicestart] E5:96/1 <96 C5:96/2 | C5:96/1 +E5:96/1 [above 1 principal-voicestop]"},
		{"the first's keep theirs", []string{line("wedge", `type="crescendo" number="2"`) + "E5:w", "C5:w"}, "[above 1 1. wedgecrescendo2] E5:96/1 <96 C5:96/2"},
		{"hairpins that open otherwise", []string{line("wedge", `type="crescendo"`) + "E5:h " + line("wedge", `type="stop"`) + "E5:h", line("wedge", `type="diminuendo"`) + "E5:h " + line("wedge", `type="stop"`) + "E5:h"},
			"[above 1 wedgecrescendo] [below 2 wedgediminuendo5] E5:48/1 [above 1 wedgestop] [below 2 wedgestop5] E5:48/1 <96 E5:48/2 E5:48/2"},
		{"one that goes on is the same", []string{line("pedal", `type="start"`) + "E5:h " + line("pedal", `type="continue"`) + "E5:h " + line("pedal", `type="stop"`), line("pedal", `type="start"`) + "E5:h " + line("pedal", `type="continue"`) + "E5:h " + line("pedal", `type="stop"`)},
			"[pedalstart] [a 2] E5:48/1 [pedalcontinue] E5:48/1 [pedalstop]"},
		{"one that ends later", []string{line("pedal", `type="start"`) + "E5:h " + line("pedal", `type="stop"`) + "E5:h", line("pedal", `type="start"`) + "E5:h E5:h " + line("pedal", `type="stop"`)},
			"[above 1 pedalstart] [below 2 pedalstart5] E5:48/1 [above 1 pedalstop] E5:48/1 [below 2 pedalstop5] <96 E5:48/2 E5:48/2"},
		{"one that goes on, and ends later", []string{line("pedal", `type="start"`) + "E5:h " + line("pedal", `type="continue"`) + "E5:q " + line("pedal", `type="stop"`) + "E5:q", line("pedal", `type="start"`) + "E5:h " + line("pedal", `type="continue"`) + "E5:q E5:q " + line("pedal", `type="stop"`)},
			"[above 1 pedalstart] [below 2 pedalstart5] E5:48/1 [above 1 pedalcontinue] [below 2 pedalcontinue5] E5:24/1 [above 1 pedalstop] E5:24/1 [below 2 pedalstop5] <96 E5:48/2 E5:24/2 E5:24/2"},
		{"a gap at the end of a middle voice", []string{"E5:w", "D5:h _:h", "C5:q C5:q C5:h"}, "E5:96/1 <96 D5:48/2 >48 <96 C5:24/3 C5:24/3 C5:48/3"},
		{"of two kinds: each has its number", []string{"!p E5:w", line("wedge", `type="crescendo"`) + "C5:w"}, "[above 1 1. p] [below 2 2. wedgecrescendo5] E5:96/1 <96 C5:96/2"},
		{"again only where the other had one between", []string{"!p E5:h !f E5:h | !p E5:w", `"dolce" C5:w | C5:w`}, `[above 1 1. p] [below 2 2. dolce] E5:48/1 [above 1 f] E5:48/1 <96 C5:96/2 | [above 1 1. p] E5:96/1 <96 C5:96/2`},
		{"and after a bar that all share", []string{"!p E5:w | E5:w | !f E5:w", `C5:w | C5:w | C5:w`}, "[above 1 1. p] E5:96/1 <96 C5:96/2 | C5:96/1 +E5:96/1 | [above 1 1. f] E5:96/1 <96 C5:96/2"},
		{"who plays of an older staff goes", []string{`"1." "a 2" "unis." "div." "zu 3" "II." "dolce" E5:w`, "C5:w"}, "[above 1 1. dolce] E5:96/1 <96 C5:96/2"},
		{"a slur over the barline makes voices of both bars", []string{"E5:w( | D5:w)", "E5:w( | C5:w)"}, "E5:96/1(1 <96 E5:96/2(5 | D5:96/1)1 <96 C5:96/2)5"},
	} {
		var staves []*draft.Draft
		for _, music := range row.music {
			timeline := laid(t, music)
			staves = append(staves, &draft.Draft{Part: timeline.Measures[0].Element.Parent(), Timeline: timeline})
		}
		assert.Equal(t, row.want, told(Join(staves, []string{"1", "2", "3"})), row.why)
	}
}

// told writes a part as TestJoin does.
func told(part *etree.Element) string {
	var text []string
	for _, measure := range part.ChildElements() {
		if len(text) > 0 {
			text = append(text, "|")
		}
		for _, e := range measure.ChildElements() {
			switch e.Tag {
			case "note":
				text = append(text, toldNote(e))
			case "direction":
				text = append(text, toldDirection(e))
			case "backup", "forward":
				text = append(text, map[string]string{"backup": "<", "forward": ">"}[e.Tag]+musicxml.ChildText(e, "duration"))
			case "barline":
				text = append(text, "=")
			}
		}
	}
	return strings.Join(text, " ")
}

func toldNote(e *etree.Element) string {
	text := musicxml.Text(musicxml.Descend(e, "pitch", "step")) + musicxml.Text(musicxml.Descend(e, "pitch", "octave"))
	if musicxml.Child(e, "rest") != nil {
		text = "r"
	}
	if musicxml.Child(e, "chord") != nil {
		text = "+" + text
	}
	if d := musicxml.ChildText(e, "duration"); d != "" {
		text += ":" + d
	}
	text += "/" + musicxml.ChildText(e, "voice") + map[string]string{"up": "↑", "down": "↓", "none": "!"}[musicxml.ChildText(e, "stem")]
	if musicxml.Attr(e, "print-object") == "no" {
		text += "*"
	}
	for _, mark := range e.FindElements("notations//*[@number]") {
		text += map[string]string{"slurstart": "(", "slurstop": ")"}[mark.Tag+musicxml.Attr(mark, "type")]
		if mark.Tag != "slur" {
			text += "<" + mark.Tag
		}
		text += musicxml.Attr(mark, "number")
	}
	return text
}

func toldDirection(e *etree.Element) string {
	said := []string{musicxml.Attr(e, "placement"), musicxml.ChildText(e, "voice")}
	if said[1] == "" {
		said[0] = "" // of what is everybody's the place is the source's
	}
	for _, mark := range e.FindElements("direction-type/*") {
		said = append(said, musicxml.Text(mark))
		switch {
		case mark.Tag == "dynamics":
			said = append(said, mark.ChildElements()[0].Tag)
		case mark.Tag != "words":
			said = append(said, mark.Tag+musicxml.Attr(mark, "type")+musicxml.Attr(mark, "number"))
		}
	}
	if offset := musicxml.ChildText(e, "offset"); offset != "" {
		said = append(said, "@"+offset)
	}
	return "[" + strings.Join(strings.Fields(strings.Join(said, " ")), " ") + "]"
}
