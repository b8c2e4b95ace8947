package divisi_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/internal/divisi"
)

// TestReduce: what stays for an instrument that sounds one note at a time, and for one
// that reads one staff. The rule is the contract's: wherever the score sounds the part
// sounds; what goes are the lower notes of chords and the voice beside the melody.
func TestReduce(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, why string
		music     string
		line      string // one note at a time
		staff     string // on one staff; "" where that is not tried
	}{
		{"chords", "the upper notes", `C5+E5:h D5:h | E4+G4+C5:w`, `E5:h D5:h | C5:w`, ""},
		{"two voices", "the upper one", `E5:q F5:q G5:h / C5:h D5:h`, `E5:q F5:q G5:h`, ""},
		{"the upper voice rests for a bar", "the lower one is the melody then", `E5:w / C5:w | R / D5:h C5:h`, `E5:w | D5:h C5:h`, ""},
		{"the upper voice rests in mid-bar", "note by note", `E5:q r:q r:q G5:q / r:q C5:q D5:q r:q`, `E5:q C5:q D5:q G5:q`, ""},
		{"a note that lasts under the upper voice", "it begins anew where that rests", `E5:h r:h / C5:w`, `E5:h C5:h`, ""},
		{"a note that would last on", "it ends where the upper voice comes in", `r:q E5:q F5:h / C5:h D5:h`, `C5:q E5:q F5:h`, ""},
		{"a long note under short ones", "all its gaps", `E5:q r:q E5:q r:q / C5:w`, `E5:q C5:q E5:q C5:q`, ""},
		{"one under several that follow each other", "the gap behind them", `E5:q F5:q G5:q r:q / C5:w`, `E5:q F5:q G5:q C5:q`, ""},
		{"three quarters in the gap", "one dotted value", `E5:q r:hd / C5:w`, `E5:q C5:hd`, ""},
		{"five eighths in the gap", "two values, tied", `E5:qd r:e r:h / C5:w`, `E5:qd C5:h~ C5:e^`, ""},
		{"a dotted note that loses its end", "what stays has no dot", `r:h E5:h / C5:hd D5:q`, `C5:h E5:h`, ""},
		{"cue notes over the music", "they sound nothing, so that what sounds stays", `<note><cue/><pitch><step>E</step><octave>5</octave></pitch><duration>48</duration><voice>1</voice><type>half</type></note> <note><rest/><duration>48</duration><voice>1</voice><type>half</type></note> <backup><duration>96</duration></backup> <note><pitch><step>C</step><octave>5</octave></pitch><duration>96</duration><voice>2</voice><type>whole</type></note>`, `c!E5:h r:h / C5:w`, ""},
		{"a third voice", "taken where both above rest", `E5:q r:hd / r:q C5:q r:h / A4:w`, `E5:q C5:q A4:h`, ""},
		{"ties of the upper voice", "they stay", `E5:h~ E5:q^ r:q / C5:w`, `E5:h~ E5:q^ C5:q`, ""},
		{"a tie that loses its end", "the held note is no longer held", `E5:h r:h / C5:w~ | F5:w / C5:w^`, `E5:h C5:h | F5:w`, ""},
		{"words that look like players", "nobody shares: they are a fingering, a string, a count", `"2." C5+E5:h "III" D5:h | "1." E5:w | "3" F5:w`,
			`"2." E5:h "III" D5:h | "1." E5:w | "3" F5:w`, ""},
		{"a beam that loses a note", "what is left of it is beamed", `E5:e{ F5:e} r:h. / r:q C5:e{ D5:e} r:h`, `E5:e{ F5:e} C5:e{ D5:e} r:h`, ""},
		{"a triplet in the lower voice", "its rhythm stays", `E5:h r:h / r:h C5:qt D5:qt E5:qt`, `E5:h C5:qt D5:qt E5:qt`, ""},
		{"a triplet over a long note", "the piece of it is a triplet's", `E5:qt r:qt F5:qt r:h / C5:w`, `E5:qt C5:qt F5:qt C5:h`, ""},
		{"a triplet held under the melody", "what is left of it is in the triplet's values", `E5:e F5:e r:hd / C5:qt D5:qt E5:qt r:h`, `E5:e F5:e D5:et E5:qt r:h`, ""},
		{"two staves", "the upper one, and the lower where it rests", `E5:h r:h // C3:q D3:q E3+G3:h`, `E5:h G3:h`, `E5:h E3+G3:h`},
		{"two staves with voices", "voices of one staff stay together", `E5:h r:h / C5:q D5:q r:h // C3:w`, `E5:h C3:h`, `E5:h C3:h / C5:q D5:q _48`},
		{"a grace note", "it goes with its note", `E5:h r:h / r:h g!B4:e C5:h`, `E5:h g!B4:e C5:h`, ""},
		{"a grace note whose note stands on the other staff", "it goes before it all the same", `E5:h g!B4:e =2 C4:q =1 D5:q`, `E5:h g!B4:e C4:q D5:q`, `E5:h g!B4:e C4:q D5:q`},
		{"a grace note before a note that begins in a gap", "it stays with the beginning", `r:q E5:q F5:h / g!B4:e C5:h D5:h`, `g!B4:e C5:q E5:q F5:h`, ""},
		{"a grace note before a note that ends in a gap", "it goes with the beginning", `E5:q r:hd / g!B4:e C5:w`, `E5:q C5:hd`, ""},
		{"grace notes behind a note that ends in a gap", "they stay with the end", `E5:q r:hd / C5:w g!B4:e`, `E5:q C5:hd g!B4:e`, ""},
		{"a slur into the gap", "both ends or none", `E5:q( F5:q) r:h / C5:h( D5:h)`, `E5:q( F5:q) D5:h`, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			assert.Equal(t, c.line, reduced(t, c.music, true), c.why)
			if c.staff != "" {
				assert.Equal(t, c.staff, reduced(t, c.music, false), "on one staff: %s", c.why)
			}
		})
	}
}

// TestReducedNotes: what a piece of a note keeps (MusicXML 4.0, duration, time-modification):
// its beginning the accidental, the words and what a note begins with, its end the pause
// and what ends there; a quarter note is 24 divisions.
func TestReducedNotes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, music, want string }{
		{"a value and what is left", `E5:q'lo' r:hd / C5:w'la'`, `E5:24,'lo' C5:72`},
		{"a beginning that stays", `r:h E5:h'lo' / C5:w'la'«<articulations><accent/></articulations><slur·type="start"·number="1"/>» | R / D5:w«<slur·type="stop"·number="1"/>»`, `C5:48,'la',articulations accent,slur.start.1 E5:48,'lo' | D5:96,slur.stop.1`},
		{"an end that stays", `E5:h'lo' r:h / C5:w'la'«<fermata/><articulations><breath-mark/></articulations>»`, `E5:48,'lo' C5:48,fermata,articulations breath-mark`},
		{"a cut in the air", `E5:h'lo' r:h / C5:w«<articulations><caesura/></articulations>»`, `E5:48,'lo' C5:48,articulations caesura`},
		{"a middle: the pause is everybody's", `E5:q'lo' r:h E5:q / C5:w'la'«<fermata/><articulations><accent/></articulations>»`, `E5:24,'lo' C5:48 E5:24,fermata`},
		{"a glissando goes from its end", `E5:h r:h / C5:w«<glissando·type="start"·number="1"/>» | R / D5:w«<glissando·type="stop"·number="1"/>»`, `E5:48 C5:48,glissando.start.1 | D5:96,glissando.stop.1`},
		{"one that ends at a piece", `R / C5:w«<glissando·type="start"·number="1"/>» | r:h E5:h / D5:w«<glissando·type="stop"·number="1"/>»`, `C5:96,glissando.start.1 | D5:48,glissando.stop.1 E5:48`},
		{"two values for a piece", `E5:qd r:e r:h / C5:w~ | R / C5:w^`, `E5:36 C5:48,tie.start,tied.start C5:12,tie.start,tie.stop,tied.start,tied.stop | C5:96,tie.stop,tied.stop`},
		{"a cue note in pieces sounds nothing: a curve and no tie", `E5:qd r:e r:h / <note><cue/><pitch><step>C</step><octave>5</octave></pitch><duration>96</duration><voice>2</voice><type>whole</type></note>`, `E5:36 C5:48,tied.start C5:12,tied.stop`},
		{"pieces in a triplet's time", `E5:qt r:qt F5:qt r:h / C5:w`, `E5:16,3:2 C5:16,3:2 F5:16,3:2 C5:48`},
		{"the end of a tie is cut off", `R / C5:w~ | E5:q r:hd / C5:w^`, `C5:96 | E5:24 C5:72`},
		{"the beginning of one is", `r:hd E5:q / C5:w~ | R / C5:w^`, `C5:72 E5:24 | C5:96`},
	} {
		tree := shorthand.Part(t, c.music)
		_, err := divisi.Reduce(lay(t, tree), true)
		require.NoError(t, err)
		assert.Equal(t, c.want, strings.TrimPrefix(detailed(tree), openingDetail), c.name)
		for _, notations := range tree.FindElements("//notations") {
			assert.NotEmpty(t, notations.ChildElements(), c.name)
		}
	}
}

func reduced(t *testing.T, music string, oneLine bool) string {
	t.Helper()
	tree := shorthand.Part(t, music)
	timeline, err := musicxml.NewTimeline(tree)
	require.NoError(t, err)
	_, err = divisi.Reduce(timeline, oneLine)
	require.NoError(t, err)
	return shorthand.Read(tree)
}
