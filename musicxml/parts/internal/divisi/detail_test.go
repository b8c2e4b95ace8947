package divisi_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/internal/divisi"
)

// detailed writes a part with all that stands at its notes: "E5:q(accent)", "begin" for a
// beam with its level, "slur.start.1" for an end of a line, "@12" for an offset, "v2" for a
// voice that is not the first.
func detailed(part *etree.Element) string {
	var bars []string
	for _, measure := range musicxml.Children(part, "measure") {
		var tokens []string
		for _, token := range measure.Child {
			switch e := token.(type) {
			case *etree.Comment:
				tokens = append(tokens, "<!--"+e.Data+"-->")
			case *etree.Element:
				tokens = append(tokens, detail(e))
			}
		}
		bars = append(bars, strings.Join(tokens, " "))
	}
	return strings.Join(bars, " | ")
}

// detail writes one element of a bar.
func detail(e *etree.Element) string {
	switch e.Tag {
	case "note":
		return noteDetail(e)
	case "backup", "forward":
		if v := musicxml.ChildText(e, "voice"); v != "" && v != "1" {
			return e.Tag + musicxml.ChildText(e, "duration") + "v" + v
		}
		return e.Tag + musicxml.ChildText(e, "duration")
	}
	text := ""
	for _, c := range e.ChildElements() {
		switch c.Tag {
		case "direction-type", "measure-style":
			text += detail(c)
		case "offset":
			text += "@" + musicxml.Text(c)
		case "voice", "staff":
			text += c.Tag[:1] + musicxml.Text(c)
		default:
			text += "<" + strings.TrimSpace(whole(c)) + ">"
		}
	}
	if e.Tag == "direction" || e.Tag == "direction-type" || e.Tag == "measure-style" {
		return text
	}
	return e.Tag + text
}

// whole writes an element with its attributes and what is in it.
func whole(e *etree.Element) string {
	text := e.Tag
	for _, key := range []string{"type", "number", "line", "print-object"} {
		if v := e.SelectAttrValue(key, ""); v != "" {
			text += "." + v
		}
	}
	for _, c := range e.ChildElements() {
		text += " " + whole(c)
	}
	if t := strings.TrimSpace(e.Text()); t != "" {
		text += "=" + t
	}
	return text
}

func noteDetail(e *etree.Element) string {
	text := ""
	if musicxml.Child(e, "chord") != nil {
		text = "+"
	}
	if musicxml.Child(e, "grace") != nil {
		text += "g!"
	}
	if p := musicxml.Child(e, "pitch"); p != nil {
		text += musicxml.ChildText(p, "step") + musicxml.ChildText(p, "octave")
	} else {
		text += "r" + musicxml.ChildText(musicxml.Child(e, "rest"), "display-step")
	}
	text += ":" + musicxml.ChildText(e, "duration")
	if v := musicxml.ChildText(e, "voice"); v != "1" {
		text += "v" + v
	}
	for _, tag := range []string{"stem", "staff", "accidental"} {
		if v := musicxml.ChildText(e, tag); v != "" {
			text += "," + tag + "=" + v
		}
	}
	for _, b := range musicxml.Children(e, "beam") {
		text += "," + musicxml.Attr(b, "number") + musicxml.Text(b)
	}
	for _, t := range musicxml.Children(e, "tie") {
		text += ",tie." + musicxml.Attr(t, "type")
	}
	if m := musicxml.Child(e, "time-modification"); m != nil {
		text += "," + musicxml.ChildText(m, "actual-notes") + ":" + musicxml.ChildText(m, "normal-notes")
	}
	for _, l := range musicxml.Children(e, "lyric") {
		text += ",'" + musicxml.ChildText(l, "text") + "'"
	}
	for _, n := range musicxml.Children(e, "notations") {
		for _, c := range n.ChildElements() {
			text += "," + whole(c)
		}
	}
	return text
}

// openingDetail is what a part of the shorthand begins with.
const openingDetail = `attributes<divisions=24><time beats=4 beat-type=4> `

// TestDetailsOfPlayers: what stands at the notes of each of two players, and what else
// stands in their bars. A quarter note is 24 divisions.
func TestDetailsOfPlayers(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, why, music, first, second string }{
		{"sixteenths that lose two", "what is left of the group is beamed by itself, at each level", `"a 2" C5:s{ D5:s- "1." E5:s- F5:s} G5:hd`,
			`C5:6,1begin D5:6,1continue E5:6,1continue F5:6,1end G5:72`, `C5:6,1begin,2begin D5:6,1end,2end r:12 r:24 r:48`},
		{"a dotted eighth and a sixteenth", "the second level has a hook, towards the longer note", `"a 2" C5:ed{ D5:s- "1." E5:s- F5:ed} G5:h`,
			`C5:18,1begin D5:6,1continue E5:6,1continue F5:18,1end G5:48`, `C5:18,1begin D5:6,1end,2backward hook r:24 r:48`},
		{"a sixteenth and a dotted eighth", "the hook of the first note points forward", `"a 2" C5:s{ D5:ed- "1." E5:ed- F5:s} G5:h`,
			`C5:6,1begin D5:18,1continue E5:18,1continue F5:6,1end G5:48`, `C5:6,1begin,2forward hook D5:18,1end r:24 r:48`},
		{"three of four", "the beam is closed at the third", `"a 2" C5:e{ D5:s- E5:s- "1." F5:e} G5:e G5:h`,
			`C5:12,1begin D5:6,1continue E5:6,1continue F5:12,1end G5:12 G5:48`, `C5:12,1begin D5:6,1continue,2begin E5:6,1end,2end r:24 r:48`},
		{"marks at each note of a chord", "what is said of the chord is for both, once; a fingering is for its note", `C5:w«<articulations><accent/></articulations><technical><fingering>3</fingering></technical>» +E5:w«<articulations><staccato/></articulations><ornaments><trill-mark/></ornaments>»`,
			`E5:96,articulations staccato accent,ornaments trill-mark`, `C5:96,articulations accent staccato,technical fingering=3,ornaments trill-mark`},
		{"the same mark at both notes", "it stands once", `C5:w«<articulations><accent/></articulations><dynamics><p/></dynamics>» +E5:w«<articulations><accent/></articulations><dynamics><f/></dynamics>»`,
			`E5:96,articulations accent,dynamics f`, `C5:96,articulations accent,dynamics p`},
		{"a pause and a dynamic at a chord", "they are for both", `C5:w«<fermata/><dynamics><p/></dynamics>» +E5:w`, `E5:96,fermata,dynamics p`, `C5:96,fermata,dynamics p`},
		{"notes struck together", "of one note that is nothing to say", `C5:w«<non-arpeggiate·type="bottom"/>» +E5:w«<non-arpeggiate·type="top"/>»`, `E5:96`, `C5:96`},
		{"an arpeggio", "of one note there is none", `C5:w«<arpeggiate/>» +E5:w`, `E5:96`, `C5:96`},
		{"a tremolo between two chords", "each player has both its ends", `C5:h«<ornaments><tremolo·type="start">2</tremolo></ornaments>» +E5:h D5:h«<ornaments><tremolo·type="stop">2</tremolo></ornaments>» +F5:h`,
			`E5:48,ornaments tremolo.start=2 F5:48,ornaments tremolo.stop=2`, `C5:48,ornaments tremolo.start=2 D5:48,ornaments tremolo.stop=2`},
		{"a tremolo of each note", "it is for both", `C5:w«<ornaments><tremolo·type="single">3</tremolo></ornaments>» +E5:w`, `E5:96,ornaments tremolo.single=3`, `C5:96,ornaments tremolo.single=3`},
		{"a glissando of one notehead", "it stays with it", `C5:h«<glissando·type="start"·number="1"/>» +E5:h D5:h«<glissando·type="stop"·number="1"/>» +F5:h`,
			`E5:48 F5:48`, `C5:48,glissando.start.1 D5:48,glissando.stop.1`},
		{"a trill line", "it belongs to the stem", `C5:h«<ornaments><trill-mark/><wavy-line·type="start"·number="1"/></ornaments>» +E5:h D5:h«<ornaments><wavy-line·type="stop"·number="1"/></ornaments>» +F5:h`,
			`E5:48,ornaments trill-mark wavy-line.start.1 F5:48,ornaments wavy-line.stop.1`, `C5:48,ornaments trill-mark wavy-line.start.1 D5:48,ornaments wavy-line.stop.1`},
		{"two slurs at once", "each voice's slur is its player's", `E5:h«<slur·type="start"·number="1"/>» F5:h«<slur·type="stop"·number="1"/>» / C5:h«<slur·type="start"·number="2"/>» D5:h«<slur·type="stop"·number="2"/>»`,
			`E5:48,slur.start.1 F5:48,slur.stop.1`, `C5:48,slur.start.2 D5:48,slur.stop.2`},
		{"slurs that meet on one note", "the one ends before the other begins", `"a 2" C5:h«<slur·type="start"·number="1"/>» D5:q«<slur·type="start"·number="1"/><slur·type="stop"·number="1"/>» E5:q«<slur·type="stop"·number="1"/>»`,
			`C5:48,slur.start.1 D5:24,slur.start.1,slur.stop.1 E5:24,slur.stop.1`, `C5:48,slur.start.1 D5:24,slur.start.1,slur.stop.1 E5:24,slur.stop.1`},
		{"the pause of the lower voice upside down", "it is upright in both parts", `E5:w / C5:w«<fermata·type="inverted"/>»`, `E5:96,fermata.upright`, `C5:96,fermata.upright`},
		{"a pause under two notes", "the other player has it at the note that ends with it", `E5:h F5:h / C5:w«<fermata/>»`, `E5:48 F5:48,fermata`, `C5:96,fermata`},
		{"a pause in mid bar under a longer note", "the long note goes on through it: it has it", `E5:w / C5:q D5:q«<fermata/>» C5:h`, `E5:96,fermata`, `C5:24 D5:24,fermata C5:48`},
		{"a pause over a note that begins with another", "that one has it", `E5:h r:h / C5:q«<fermata/>» D5:hd`, `E5:48,fermata r:48`, `C5:24,fermata D5:72`},
		{"a pause in the middle of the other's note", "who goes on through its end has it", `E5:qd F5:h r:e / C5:q D5:q? C5:h`, `E5:36 F5:48,fermata r:12`, `C5:24 D5:24,fermata C5:48`},
		{"a pause over the second of two notes", "it is held where it ends", `E5:q F5:hd / C5:h? D5:h`, `E5:24 F5:72,fermata`, `C5:48,fermata D5:48`},
		{"a pause of each voice", "each player has one", `E5:w? / C5:w?`, `E5:96,fermata`, `C5:96,fermata`},
		{"ties that lead to nothing", "they are left as the score has them: a note that rings on", `C5:w~ +E5:w~ | R`, `E5:96,tie.start,tied.start | r:96`, `C5:96,tie.start,tied.start | r:96`},
		{"ties that come from nothing", "so are those of a second ending", `R | C5:w^ +E5:w^`, `r:96 | E5:96,tie.stop,tied.stop`, `r:96 | C5:96,tie.stop,tied.stop`},
		{"divisions that change in mid-bar", "a lower voice that was counted in the second is counted in the first (MusicXML 4.0, divisions)",
			`<note><pitch><step>E</step><octave>5</octave></pitch><duration>48</duration><voice>1</voice></note> <attributes><divisions>48</divisions></attributes> <note><pitch><step>F</step><octave>5</octave></pitch><duration>96</duration><voice>1</voice></note> <backup><duration>192</duration></backup> <note><pitch><step>C</step><octave>5</octave></pitch><duration>96</duration><voice>2</voice></note> <note><pitch><step>D</step><octave>5</octave></pitch><duration>96</duration><voice>2</voice></note>`,
			`E5:48 attributes<divisions=48> F5:96`, `C5:48 attributes<divisions=48> D5:96`},
		{"a triplet over two staves", "each player has its bracket from its first note to its last, or to the rests in their place", `r:w // C4:qt[ =1 D4:qt G4:qt] r:h`, `r:16,3:2,tuplet.start.1 D4:16,3:2 G4:16,3:2,tuplet.stop.1 r:48`, `C4:16,3:2,tuplet.start.1 r:16,3:2 r:16,3:2,tuplet.stop.1 r:48`},
		{"one that comes back to its staff", "the same", `C4:qt[ =2 D4:qt =1 G4:qt] r:h // r:w`, `C4:16,3:2,tuplet.start.1 r:16,3:2 G4:16,3:2,tuplet.stop.1 r:48`, `r:16,3:2,tuplet.start.1 D4:16,3:2 r:16,3:2,tuplet.stop.1 r:48`},
		{"triplets of two voices that one player has", "each voice has its bracket", `G5:w / E5:qt[ D5:qt E5:qt] r:h / C5:qt[ B4:qt C5:qt] r:h`, `G5:96`, `E5:16,3:2,tuplet.start.1 D5:16,3:2 E5:16,3:2,tuplet.stop.1 r:48 backup96 C5:16v2,3:2,tuplet.start.2 B4:16v2,3:2 C5:16v2,3:2,tuplet.stop.2 forward48v2`},
		{"a beam that loses its second note", "the first has its flag, what follows the rest is beamed", `"a 2" C5:e{ "1." D5:e- "a 2" E5:e- F5:e} G5:h`, `C5:12,1begin D5:12,1continue E5:12,1continue F5:12,1end G5:48`, `C5:12 r:12 E5:12,1begin F5:12,1end G5:48`},
		{"a beam of one voice, then the end of another's", "each is beamed by itself", `E5:e{ F5:e} _:q _:h / "a 2" C5:e{ D5:e- E5:e- F5:e} _:h`, `E5:12,1begin F5:12,1end E5:12,1begin F5:12,1end r:48`, `C5:12,1begin D5:12,1continue E5:12,1continue F5:12,1end r:48`},
		{"a flagged note in the middle of another voice's beam", "it parts the beam", `_:e F5:e _:q _:h / "a 2" C5:e{ D5:e- E5:e- F5:e} _:h`, `C5:12 F5:12 E5:12,1begin F5:12,1end r:48`, `C5:12,1begin D5:12,1continue E5:12,1continue F5:12,1end r:48`},
		{"a slur without an end before the one that ends", "the one that ends is the player's own; the other's end is not needed", `B5:q«<slur·type="start"/>» E5:q«<slur·type="start"/>» "a 2" D5:h«<slur·type="stop"·number="1"/><slur·type="stop"·number="2"/>» / C5:h«<slur·type="start"·number="2"/>»`,
			`B5:24,slur.start E5:24,slur.start D5:48,slur.stop.1`, `C5:48,slur.start.2 D5:48,slur.stop.2`},
		{"a slur at each note of a chord", "each player has the own one", `C5:h«<slur·type="start"·number="1"/>» +E5:h«<slur·type="start"·number="2"/>» D5:h«<slur·type="stop"·number="1"/>» +F5:h«<slur·type="stop"·number="2"/>»`, `E5:48,slur.start.2 F5:48,slur.stop.2`, `C5:48,slur.start.1 D5:48,slur.stop.1`},
		{"a slur that ends at one note of a chord, and one that begins at the other", "both are the whole chord's", `"a 2" E5:q«<slur·type="start"·number="1"/>» C5:q«<slur·type="start"·number="2"/>» +E5:q«<slur·type="stop"·number="1"/>» D5:h«<slur·type="stop"·number="2"/>» +F5:h`,
			`E5:24,slur.start.1 E5:24,slur.stop.1,slur.start.2 F5:48,slur.stop.2`, `E5:24,slur.start.1 C5:24,slur.start.2,slur.stop.1 D5:48,slur.stop.2`},
		{"two grace notes", "they keep their order", `"a 2" g!D5:e g!E5:e C5:w`, `g!D5: g!E5: C5:96`, `g!D5: g!E5: C5:96`},
		{"words behind the notes that they stand over", "they hold from where they stand, wherever the file has them", `E5:h "1." F5:h / "a 2" _:w`, `E5:48 F5:48`, `E5:48 r:48`},
		{"a dynamic inside a note that both have", "both have it there", `E5:w / C5:w | "a 2" <direction><direction-type><dynamics><p/></dynamics></direction-type><offset>48</offset></direction> D5:w`, `E5:96 | <dynamics p>@48 D5:96`, `C5:96 | <dynamics p>@48 D5:96`},
		{"an arpeggio through two voices", "of one note there is none", `E5:w«<arpeggiate/>» / C5:w«<arpeggiate/>»`, `E5:96`, `C5:96`},
		{"a hairpin of the lower voice whose end the upper one has", "both ends are the lower player's", `E5:w !. / C5:h !< D5:h`, `E5:96`, `C5:48 <wedge.crescendo> D5:48 <wedge.stop>`},
		{"a second end of a hairpin", "it ends that of the other voice", `!< E5:q !. F5:q G5:h !. / !< C5:h D5:h`, `<wedge.crescendo> E5:24 <wedge.stop> F5:24 G5:48`, `<wedge.crescendo> C5:48 D5:48 <wedge.stop>`},
		{"a slur whose end only the other player has, over a rest", "it does not go over the rest to the player's next note", `"a 2" E5:q«<slur·type="start"·number="1"/>» r:q F5:h«<slur·type="stop"·number="1"/>» / _:h D5:h`, `E5:24,slur.start.1 r:24 F5:48,slur.stop.1`, `E5:24 r:24 D5:48`},
		{"the same without a rest", "it goes to the player's note where it ends", `"a 2" E5:h«<slur·type="start"·number="1"/>» F5:h«<slur·type="stop"·number="1"/>» / _:h D5:h`, `E5:48,slur.start.1 F5:48,slur.stop.1`, `E5:48,slur.start.1 D5:48,slur.stop.1`},
		{"an end without a beginning before the end of the other's slur", "it is no beginning", `E5:q«<slur·type="stop"·number="1"/>» F5:q "a 2" D5:h«<slur·type="stop"·number="2"/>» / C5:h«<slur·type="start"·number="2"/>»`, `E5:24,slur.stop.1 F5:24 D5:48`, `C5:48,slur.start.2 D5:48,slur.stop.2`},
		{"a beginning without an end behind the end that the other has", "it is no end", `"a 2" D5:h«<slur·type="start"·number="1"/>» E5:q F5:q«<slur·type="start"·number="2"/>» / _:h C5:h«<slur·type="stop"·number="1"/>»`, `D5:48,slur.start.1 E5:24,slur.stop.1 F5:24,slur.start.2`, `D5:48,slur.start.1 C5:48,slur.stop.1`},
		{"slurs from a unison into each voice", "each player has the one that leads to the own voice", `"a 2" D5:h«<slur·type="start"·number="1"/><slur·type="start"·number="2"/>» E5:q«<slur·type="stop"·number="1"/>» F5:q / _:h B4:q C5:q«<slur·type="stop"·number="2"/>»`, `D5:48,slur.start.1 E5:24,slur.stop.1 F5:24`, `D5:48,slur.start.2 B4:24 C5:24,slur.stop.2`},
		{"two ornaments at one note, one of them at both", "each stands once at each", `C5:w«<ornaments><trill-mark/><mordent/></ornaments>» +E5:w«<ornaments><trill-mark/></ornaments>»`, `E5:96,ornaments trill-mark mordent`, `C5:96,ornaments trill-mark mordent`},
		{"beams at every note of a chord", "the stem is the chord's all the same", `C5:e{↑ +E5:e{ D5:e}↑ +F5:e} G5:q G5:h`, `E5:12,stem=up,1begin F5:12,stem=up,1end G5:24 G5:48`, `C5:12,stem=up,1begin D5:12,stem=up,1end G5:24 G5:48`},
		{"a hairpin that begins where another ends, written before its end", "the end is the first one's", `E5:w / !< C5:h !< !. D5:h !.`, `<wedge.crescendo> <wedge.stop>@48 E5:96`, `<wedge.crescendo> C5:48 <wedge.crescendo> <wedge.stop> D5:48 <wedge.stop>`},
		{"a tie of both voices that one goes on with", "the other's is tied to nothing", `C5:w~ / C5:w~ | C5:w^ / A4:w`, `C5:96,tie.start,tied.start | C5:96,tie.stop,tied.stop`, `C5:96 | A4:96`},
		{"a tie into both voices that one comes from", "the other's is tied from nothing", `C5:w~ / A4:w | C5:w^ / C5:w^`, `C5:96,tie.start,tied.start | C5:96,tie.stop,tied.stop`, `A4:96 | C5:96`},
		{"a glissando to a note that only one plays", "the other has no end for it", `"a 2" C5:h«<glissando·type="start"·number="1"/>» "1." D5:h«<glissando·type="stop"·number="1"/>»`, `C5:48,glissando.start.1 D5:48,glissando.stop.1`, `C5:48 r:48`},
		{"a triplet in mid-bar with a grace note before", "it begins and ends at its own notes", `"a 2" C5:q g!B4:e D5:et[ E5:et F5:et] G5:h`, `C5:24 g!B4: D5:8,3:2,tuplet.start.1 E5:8,3:2 F5:8,3:2,tuplet.stop.1 G5:48`, `C5:24 g!B4: D5:8,3:2,tuplet.start.1 E5:8,3:2 F5:8,3:2,tuplet.stop.1 G5:48`},
		{"slashes except for a voice in which the player rests", "there is no exception for a rest", `<attributes><measure-style><slash type="start"><slash-type>quarter</slash-type><except-voice>1</except-voice></slash></measure-style></attributes> "1." E5:w`,
			`attributes<slash.start slash-type=quarter except-voice=1> E5:96`, `attributes<slash.start slash-type=quarter> r:96`},
		{"a hairpin that begins before the entry and ends behind it", "it is for who sounds under it", `"1." !< E5:h "a 2" F5:h | "1." E5:h !. E5:h`, `<wedge.crescendo> E5:48 F5:48 | E5:48 <wedge.stop> E5:48`, `<wedge.crescendo> r:48 F5:48 | <wedge.stop>@48 r:96`},
		{"words for each voice", "each sings its own", `E5:h'la' G5:h'lo' / C5:h'mi' D5:h'mo'`, `E5:48,'la' G5:48,'lo'`, `C5:48,'mi' D5:48,'mo'`},
		{"a word under a chord", "both sing it", `C5:w'la' +E5:w`, `E5:96,'la'`, `C5:96,'la'`},
		{"a word under the upper note of a chord", "both sing it", `C5:w +E5:w'la'`, `E5:96,'la'`, `C5:96,'la'`},
		{"a direction that names its voice", "the player has one voice, the first", `E5:w / <direction><direction-type><words>x</words></direction-type><voice>2</voice></direction> C5:w`,
			`<words=x>v1 E5:96`, `<words=x>v1 C5:96`},
		{"stems and beams of a chord", "they are the chord's", `C5:e{↑ +E5:e D5:e}↑ +F5:e G5:q G5:h`, `E5:12,stem=up,1begin F5:12,stem=up,1end G5:24 G5:48`, `C5:12,stem=up,1begin D5:12,stem=up,1end G5:24 G5:48`},
		{"chord symbols", "everybody has them", `<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony> "1." C5:w`,
			`harmony<root root-step=C><kind=major> C5:96`, `harmony<root root-step=C><kind=major> r:96`},
		{"a chord symbol inside a note", "it is moved to the note's beginning with an offset", `E5:h <harmony><root><root-step>C</root-step></root><kind>major</kind></harmony> F5:h / C5:w`,
			`E5:48 harmony<root root-step=C><kind=major> F5:48`, `harmony<root root-step=C><kind=major>@48 C5:96`},
		{"a playback tempo inside a note", "the same", `E5:h <tempo 60> F5:h / C5:w`, `E5:48 sound F5:48`, `sound@48 C5:96`},
		{"slashes except for a voice", "it goes by the voice that the player has it in; who has none of it has no exception (MusicXML 4.0, except-voice)",
			`<attributes><measure-style><slash type="start"><slash-type>quarter</slash-type><except-voice>2</except-voice></slash></measure-style></attributes> E5:w / C5:w`,
			`attributes<slash.start slash-type=quarter> E5:96`, `attributes<slash.start slash-type=quarter except-voice=1> C5:96`},
		{"a mid-bar change of clef inside a note", "it stands behind the note, where it is counted from", `E5:h [clef C 3] F5:h / C5:w`,
			`E5:48 attributes<clef sign=C line=3> F5:48`, `C5:96 backup48 attributes<clef sign=C line=3> forward48`},
		{"the same over a rest", "it stands where the next note begins", `"1." E5:h [clef C 3] F5:h / r:w`,
			`E5:48 attributes<clef sign=C line=3> F5:48`, `r:96 attributes<clef sign=C line=3>`},
		{"a hairpin with one end for two beginnings", "each player's ends there", `!< E5:h G5:h / !< C5:h D5:h !.`,
			`<wedge.crescendo> E5:48 G5:48 <wedge.stop>`, `<wedge.crescendo> C5:48 D5:48 <wedge.stop>`},
		{"a dynamic that was missed", "it is said again at the entry with its own playback, no word of it", `"1." <direction><direction-type><words>sub.</words></direction-type><direction-type><dynamics><p/></dynamics></direction-type><sound dynamics="54"/></direction> E5:w | "a 2" D5:w`,
			`<words=sub.><dynamics p><sound> E5:96 | D5:96`, `r:96 | <dynamics p><sound> D5:96`},
		{"a dynamic that was missed before a hairpin", "what holds after a hairpin is not known", `"1." !p E5:h !< F5:h !. | "a 2" D5:w`,
			`<dynamics p> E5:48 <wedge.crescendo> F5:48 <wedge.stop> | D5:96`, `r:96 | D5:96`},
		{"the dynamic that the player knows", "it is not said again", `"a 2" !p E5:w | "1." !f F5:h !p F5:h | "a 2" D5:w`,
			`<dynamics p> E5:96 | <dynamics f> F5:48 <dynamics p> F5:48 | D5:96`, `<dynamics p> E5:96 | r:96 | D5:96`},
		{"a dynamic at the entry itself", "none is said again", `"1." !p E5:w | "a 2" !f D5:w`, `<dynamics p> E5:96 | <dynamics f> D5:96`, `r:96 | <dynamics f> D5:96`},
		{"a dynamic that was missed in a second rest", "the same", `"a 2" !p E5:w | "1." !f F5:w | "a 2" D5:w`, `<dynamics p> E5:96 | <dynamics f> F5:96 | D5:96`, `<dynamics p> E5:96 | r:96 | <dynamics f> D5:96`},
		{"a rest that was moved off the other voice's notes", "it stands where rests stand", `E5:w / <note><rest><display-step>C</display-step><display-octave>4</display-octave></rest><duration>96</duration><voice>2</voice><type>whole</type></note> | E5:w / C5:w`,
			`E5:96 | E5:96`, `r:96 | C5:96`},
		{"two staves", "each player has the attributes, words and chord symbols of the own staff, and those of the other where there are none",
			`<attributes><staves>2</staves><part-symbol>brace</part-symbol><key><fifths>2</fifths></key><clef number="1"><sign>G</sign><line>2</line></clef><clef number="2"><sign>F</sign><line>4</line></clef></attributes> <harmony><root><root-step>C</root-step></root><kind>major</kind><staff>1</staff></harmony> <harmony><root><root-step>D</root-step></root><kind>major</kind><staff>2</staff></harmony> "dolce" E5:w // "secco" C3:w | <harmony><root><root-step>G</root-step></root><kind>major</kind><staff>2</staff></harmony> E5:w // C3:w | <harmony><root><root-step>C</root-step></root><kind>major</kind><staff>1</staff></harmony> <figured-bass><figure><figure-number>6</figure-number></figure><staff>2</staff></figured-bass> E5:w // C3:h <harmony><root><root-step>F</root-step></root><kind>major</kind><staff>2</staff></harmony> C3:h`,
			`attributes<key fifths=2><clef sign=G line=2> harmony<root root-step=C><kind=major> <words=dolce> E5:96 | harmony<root root-step=G><kind=major> E5:96 | harmony<root root-step=C><kind=major> figured-bass<figure figure-number=6> harmony<root root-step=F><kind=major>@48 E5:96`,
			`attributes<key fifths=2><clef sign=F line=4> harmony<root root-step=D><kind=major> <words=secco> C3:96 | harmony<root root-step=G><kind=major> C3:96 | harmony<root root-step=C><kind=major> figured-bass<figure figure-number=6> C3:48 harmony<root root-step=F><kind=major> C3:48`},
		{"more voices than players, each with a slur", "the last player's have numbers of their own", `G5:w / E5:h( D5:h) / C5:h( B4:h)`, `G5:96`, `E5:48,slur.start.1 D5:48,slur.stop.1 backup96 C5:48v2,slur.start.2 B4:48v2,slur.stop.2`},
		{"what stands behind the bar line", "the bar line is last", `E5:w <barline location="right"><bar-style>light-light</bar-style></barline> "x" / C5:w`, `E5:96 <words=x> barline<bar-style=light-light>`, `C5:96 <words=x> barline<bar-style=light-light>`},
		{"a hairpin that both hear, then a rest", "what holds after it is not known: the dynamic is said again though it is that of before", `"a 2" !p E5:h !< E5:h !. | "1." !p F5:w | "a 2" D5:w`,
			`<dynamics p> E5:48 <wedge.crescendo> E5:48 <wedge.stop> | <dynamics p> F5:96 | D5:96`, `<dynamics p> E5:48 <wedge.crescendo> E5:48 <wedge.stop> | r:96 | <dynamics p> D5:96`},
		{"an entry with a dynamic of its own at the note", "none is said again", `"1." !p E5:w | "a 2" D5:w«<dynamics><f/></dynamics>»`, `<dynamics p> E5:96 | D5:96,dynamics f`, `r:96 | D5:96,dynamics f`},
		{"an entry in mid bar", "the dynamic is said there", `"1." !p E5:h "a 2" D5:h`, `<dynamics p> E5:48 D5:48`, `r:48 <dynamics p> D5:48`},
		{"a hairpin that begins before the entry", "who enters under it has it, from its beginning on", `"1." E5:h !< E5:h | "a 2" D5:w | E5:w !.`, `E5:48 <wedge.crescendo> E5:48 | D5:96 | E5:96 <wedge.stop>`, `<wedge.crescendo>@48 r:96 | D5:96 | E5:96 <wedge.stop>`},
		{"a hairpin that begins before the entry in its bar", "who enters under it has it, from its beginning on", `"1." E5:q !< E5:q "a 2" D5:h !.`, `E5:24 <wedge.crescendo> E5:24 D5:48 <wedge.stop>`, `<wedge.crescendo>@24 r:48 D5:48 <wedge.stop>`},
		{"a dynamic that was missed, with what it sounds like", "it is said again with that", `"1." <direction><direction-type><dynamics><p/></dynamics></direction-type><sound dynamics="50"/></direction> E5:w | "a 2" D5:w`, `<dynamics p><sound> E5:96 | D5:96`, `r:96 | <dynamics p><sound> D5:96`},
		{"a dynamic that was missed, with other playback", "which was the other's", `"1." <direction><direction-type><dynamics><p/></dynamics></direction-type><offset>2</offset><sound pan="3"/></direction> E5:w | "a 2" D5:w`, `<dynamics p>@2<sound> E5:96 | D5:96`, `r:96 | <dynamics p> D5:96`},
		{"a hairpin that is over at the entry", "it is the other's", `"1." !< E5:w !. | "a 2" D5:w`, `<wedge.crescendo> E5:96 <wedge.stop> | D5:96`, `r:96 | D5:96`},
		{"a hairpin from one voice to the other", "both have both its ends", `!< E5:w / C5:w | D5:w / B4:w !.`, `<wedge.crescendo> E5:96 | D5:96 <wedge.stop>`, `<wedge.crescendo> C5:96 | B4:96 <wedge.stop>`},
		{"a hairpin from the upper voice to the lower in one bar", "both have both its ends", `!< E5:h F5:h / C5:h !. D5:h`, `<wedge.crescendo> E5:48 <wedge.stop> F5:48`, `<wedge.crescendo> C5:48 <wedge.stop> D5:48`},
		{"a hairpin from the lower voice to the upper in one bar", "both have both its ends", `E5:h F5:h !. / C5:h !< D5:h`, `E5:48 <wedge.crescendo> F5:48 <wedge.stop>`, `C5:48 <wedge.crescendo> D5:48 <wedge.stop>`},
		{"a hairpin of the upper voice alone beside one of the lower", "each has its own", `!< E5:h !. F5:h / C5:h !> D5:h !.`, `<wedge.crescendo> E5:48 <wedge.stop> F5:48`, `C5:48 <wedge.diminuendo> D5:48 <wedge.stop>`},
		{"the end of a hairpin alone", "it stays", `"a 2" E5:h !. E5:h`, `E5:48 <wedge.stop> E5:48`, `E5:48 <wedge.stop> E5:48`},
		{"a picture beside a dynamic", "it is everybody's, the dynamic of those who play", `"1." <direction><direction-type><image/></direction-type><direction-type><dynamics><p/></dynamics></direction-type></direction> E5:w | "2." C5:w`,
			`<image><dynamics p> E5:96 | r:96`, `<image> r:96 | <dynamics p> C5:96`},
		{"more voices than players before a bar line", "the bar line is last", `G5:w / E5:w / C5:w <barline location="right"><bar-style>light-light</bar-style></barline>`, `G5:96 barline<bar-style=light-light>`, `E5:96 backup96 C5:96v2 barline<bar-style=light-light>`},
		{"more voices than players with gaps", "they are stepped over in their voice", `G5:w / E5:w / _:h C5:h | G5:w / E5:w / C5:h _:h`, `G5:96 | G5:96`, `E5:96 backup96 forward48v2 C5:48v2 | E5:96 backup96 C5:48v2 forward48v2`},
		{"a slur of one player alone", "nothing is left of it in the other's part", `E5:h( F5:h) / C5:h D5:h`, `E5:48,slur.start.1 F5:48,slur.stop.1`, `C5:48 D5:48`},
		{"rests that the score has before an entry", "they stay as they are where nothing goes", `"a 2" r:q r:q D5:h`, `r:24 r:24 D5:48`, `r:24 r:24 D5:48`},
		{"a grace note before an entry in mid bar", "the rest ends where it stands", `"1." E5:h "a 2" g!B4:e D5:h`, `E5:48 g!B4: D5:48`, `r:48 g!B4: D5:48`},
		{"two dynamics in a bar, one missed", "that one is said at the entry", `"a 2" !p E5:q "1." !f F5:h "a 2" D5:q`, `<dynamics p> E5:24 <dynamics f> F5:48 D5:24`, `<dynamics p> E5:24 r:24 r:24 <dynamics f> D5:24`},
		{"slashes except for a voice, said twice", "the exception stands once", `<attributes><measure-style><slash type="start"><slash-type>quarter</slash-type><except-voice>2</except-voice><except-voice>2</except-voice></slash></measure-style></attributes> E5:w / C5:w`,
			`attributes<slash.start slash-type=quarter> E5:96`, `attributes<slash.start slash-type=quarter except-voice=1> C5:96`},
		{"slashes except for a voice that rests alone later", "its notes are the second voice of who has two", `<attributes><measure-style><slash type="start"><slash-type>quarter</slash-type><except-voice>3</except-voice></slash></measure-style></attributes> G5:w / E5:w / C5:w | G5:w / x:w / r:w`,
			`attributes<slash.start slash-type=quarter> G5:96 | G5:96`, `attributes<slash.start slash-type=quarter except-voice=2> E5:96 backup96 C5:96v2 | r:96`},
		{"an accent over three notes", "everybody has it", `C5:w +E5:w +G5:w«<articulations><accent/></articulations>»`, `G5:96,articulations accent`, `C5:96,articulations accent +E5:96`},
		{"trills of two notes", "each with its own accidental", `C5:w«<ornaments><trill-mark/><accidental-mark>sharp</accidental-mark></ornaments>» +E5:w«<ornaments><trill-mark/><accidental-mark>flat</accidental-mark></ornaments>»`, `E5:96,ornaments trill-mark accidental-mark=flat`, `C5:96,ornaments trill-mark accidental-mark=sharp`},
		{"a trill at one note of a chord", "both have it with its accidental", `C5:w«<ornaments><trill-mark/><accidental-mark>sharp</accidental-mark></ornaments>» +E5:w`, `E5:96,ornaments trill-mark accidental-mark=sharp`, `C5:96,ornaments trill-mark accidental-mark=sharp`},
		{"a trill that goes on", "the line is its note's, the accidental is the trill's", `C5:w«<ornaments><trill-mark/><wavy-line·type="continue"/><accidental-mark>sharp</accidental-mark></ornaments>» +E5:w`, `E5:96,ornaments trill-mark accidental-mark=sharp`, `C5:96,ornaments trill-mark wavy-line.continue accidental-mark=sharp`},
		{"a slur from a unison into two voices", "each player's ends in the own voice", `"a 2" D5:h«<slur·type="start"·number="1"/>» "1." E5:h«<slur·type="stop"·number="1"/>» / _:h C5:h«<slur·type="stop"·number="1"/>»`,
			`D5:48,slur.start.1 E5:48,slur.stop.1`, `D5:48,slur.start.1 C5:48,slur.stop.1`},
		{"two slurs between the same notes", "both are the player's", `E5:h«<slur·type="start"·number="1"/><slur·type="start"·number="2"/>» F5:h«<slur·type="stop"·number="1"/><slur·type="stop"·number="2"/>» / C5:h D5:h`,
			`E5:48,slur.start.1,slur.start.2 F5:48,slur.stop.1,slur.stop.2`, `C5:48 D5:48`},
		{"a slur at each lower note of chords", "who has the upper one has one slur", `C5:h«<slur·type="start"·number="1"/>» +E5:h«<slur·type="start"·number="2"/>» +G5:h D5:h«<slur·type="stop"·number="1"/>» +F5:h«<slur·type="stop"·number="2"/>» +A5:h`,
			`G5:48,slur.start.1 A5:48,slur.stop.1`, `C5:48,slur.start.1 +E5:48,slur.start.2 D5:48,slur.stop.1 +F5:48,slur.stop.2`},
		{"slurs of two voices to a unison", "each player's begins in the own voice", `E5:h«<slur·type="start"·number="1"/>» "a 2" D5:h«<slur·type="stop"·number="1"/>» / C5:h«<slur·type="start"·number="1"/>»`,
			`E5:48,slur.start.1 D5:48,slur.stop.1`, `C5:48,slur.start.1 D5:48,slur.stop.1`},
		{"over a rest", "the one without an end of its own does not go over it", `E5:q«<slur·type="start"·number="1"/>» r:q "a 2" D5:h«<slur·type="stop"·number="1"/>» / C5:q«<slur·type="start"·number="1"/>» r:q`,
			`E5:24,slur.start.1 r:24 D5:48,slur.stop.1`, `C5:24,slur.start.1 r:24 D5:48`},
		{"trills of two notes, one of them with an accidental", "it is that note's", `C5:w«<ornaments><trill-mark/><accidental-mark>sharp</accidental-mark></ornaments>» +E5:w«<ornaments><trill-mark/></ornaments>»`, `E5:96,ornaments trill-mark`, `C5:96,ornaments trill-mark accidental-mark=sharp`},
		{"a pause at a rest", "it is for both", `E5:w / r:w? | E5:w / C5:w`, `E5:96,fermata | E5:96`, `r:96,fermata | C5:96`},
		{"a triplet whose bracket stands at each note of the chords", "each player has one", `C5:qt«<tuplet·type="start"·number="1"/>» +E5:qt«<tuplet·type="start"·number="1"/>» D5:qt +F5:qt E5:qt«<tuplet·type="stop"·number="1"/>» +G5:qt«<tuplet·type="stop"·number="1"/>» G5:h`, `E5:16,3:2,tuplet.start.1 F5:16,3:2 G5:16,3:2,tuplet.stop.1 G5:48`, `C5:16,3:2,tuplet.start.1 D5:16,3:2 E5:16,3:2,tuplet.stop.1 G5:48`},
		{"a triplet that loses its last note", "it ends with a rest", `"a 2" C5:qt[ D5:qt "1." E5:qt] G5:h`, `C5:16,3:2,tuplet.start.1 D5:16,3:2 E5:16,3:2,tuplet.stop.1 G5:48`, `C5:16,3:2,tuplet.start.1 D5:16,3:2 r:16,3:2,tuplet.stop.1 r:48`},
		{"a beam that loses a note in the middle", "what is left on either side is beamed", `"a 2" C5:e{ D5:e- "1." E5:e- "a 2" F5:e- G5:e- A5:e} B5:q`,
			`C5:12,1begin D5:12,1continue E5:12,1continue F5:12,1continue G5:12,1continue A5:12,1end B5:24`, `C5:12,1begin D5:12,1end r:12 F5:12,1begin G5:12,1continue A5:12,1end B5:24`},
		{"two beams of which one loses its beginning", "the other stays", `"1." C5:e{ "a 2" D5:e} E5:e{ F5:e} G5:h`, `C5:12,1begin D5:12,1end E5:12,1begin F5:12,1end G5:48`, `r:12 D5:12 E5:12,1begin F5:12,1end G5:48`},
		{"words for each voice at times of their own", "who sings some sings no other's", `E5:h'la' G5:h / C5:h D5:h'mo'`, `E5:48,'la' G5:48`, `C5:48 D5:48,'mo'`},
		{"words of one voice", "both sing them where they begin together", `E5:h'la' G5:h / C5:h D5:h`, `E5:48,'la' G5:48`, `C5:48,'la' D5:48`},
		{"a second slur that one player does not end", "the first one stays", `"a 2" C5:h«<slur·type="start"·number="1"/>» D5:q«<slur·type="start"·number="1"/><slur·type="stop"·number="1"/>» "1." E5:q«<slur·type="stop"·number="1"/>»`,
			`C5:48,slur.start.1 D5:24,slur.start.1,slur.stop.1 E5:24,slur.stop.1`, `C5:48,slur.start.1 D5:24,slur.stop.1 r:24`},
		{"a hairpin at the entry", "it grows from the dynamic that was missed", `"1." !p E5:w | "a 2" !< D5:h D5:h !.`, `<dynamics p> E5:96 | <wedge.crescendo> D5:48 D5:48 <wedge.stop>`, `r:96 | <wedge.crescendo> <dynamics p> D5:48 D5:48 <wedge.stop>`},
		{"the last of two that were missed", "that one holds", `"1." !p E5:h !f E5:h | "a 2" D5:w`, `<dynamics p> E5:48 <dynamics f> E5:48 | D5:96`, `r:96 | <dynamics f> D5:96`},
		{"a grace note before the entry", "the dynamic stands before it", `"1." !p E5:w | "a 2" g!C5:e D5:w`, `<dynamics p> E5:96 | g!C5: D5:96`, `r:96 | <dynamics p> g!C5: D5:96`},
		{"grace notes at the end of a bar", "they stay behind their note, whoever has it", `"1." E5:h "a 2" F5:h g!G5:e | C5:w`, `E5:48 F5:48 g!G5: | C5:96`, `r:48 F5:48 g!G5: | C5:96`},
		{"marks for all", "rehearsal marks, tempo and signs are everybody's, also over a rest", `"1." <direction><direction-type><rehearsal>A</rehearsal></direction-type></direction> <direction directive="yes"><direction-type><words>Presto</words></direction-type></direction> <direction system="also-top"><direction-type><words>x</words></direction-type></direction> <direction system="only-top"><direction-type><words>z</words></direction-type></direction> <direction><direction-type><words>y</words></direction-type><sound tempo="60"/></direction> "dolce" E5:w`,
			`<rehearsal=A> <words=Presto> <words=x> <words=z> <words=y><sound> <words=dolce> E5:96`, `<rehearsal=A> <words=Presto> <words=x> <words=z> <words=y><sound> r:96`},
	} {
		lexicon, err := divisi.LoadLexicon()
		require.NoError(t, err)
		for i, want := range []string{c.first, c.second} {
			tree := shorthand.Part(t, c.music)
			timeline, err := musicxml.NewTimeline(tree)
			require.NoError(t, err)
			_, err = divisi.Divide(timeline, divisi.Options{Players: pair(), Keep: i, Lexicon: lexicon})
			require.NoError(t, err)
			assert.Equal(t, want, strings.TrimPrefix(detailed(tree), openingDetail), "%s, player %s: %s", c.name, strconv.Itoa(i+1), c.why)
			for _, path := range []string{"//notations", "//notations/*/..", "//direction", "//direction-type", "//ornaments"} {
				for _, e := range tree.FindElements(path) {
					assert.NotEmpty(t, e.ChildElements(), "%s: nothing empty is left", c.name)
				}
			}
		}
	}
}

// Lines with two ends: one that begins in the lower voice where the upper does not begin a
// note is the lower player's, with all that continues it (part-preparation, 7).
func TestLinesOfTheLowerVoice(t *testing.T) {
	t.Parallel()
	lexicon, err := divisi.LoadLexicon()
	require.NoError(t, err)
	for kind, types := range map[string][]string{
		"wedge": {"crescendo", "continue", "continue", "stop"}, "dashes": {"start", "continue", "continue", "stop"}, "bracket": {"start", "continue", "continue", "stop"},
		"octave-shift": {"down", "continue", "continue", "stop"}, "pedal": {"start", "change", "resume", "discontinue"}, "principal-voice": {"start", "continue", "continue", "stop"},
	} {
		mark := func(i int) string {
			return `<direction><direction-type><` + kind + ` type="` + types[i] + `"/></direction-type></direction>`
		}
		music := `E5:w / C5:h ` + mark(0) + ` D5:h | E5:w / ` + mark(1) + ` C5:w | E5:w / ` + mark(2) + ` C5:w | E5:w / ` + mark(3) + ` C5:w`
		for i, want := range []int{0, 4} {
			tree := shorthand.Part(t, music)
			_, err := divisi.Divide(lay(t, tree), divisi.Options{Players: pair(), Keep: i, Lexicon: lexicon})
			require.NoError(t, err)
			assert.Len(t, tree.FindElements("//"+kind), want, "player %d", i+1)
		}
	}
}

// Marks of those who play, and marks that are everybody's, over a rest of the second player.
func TestWhoseMarksAre(t *testing.T) {
	t.Parallel()
	lexicon, err := divisi.LoadLexicon()
	require.NoError(t, err)
	for kind, second := range map[string]int{
		"words": 0, "symbol": 0, "dynamics": 0, "string-mute": 0, "other-direction": 0, "percussion": 0, "damp": 0, "damp-all": 0,
		"rehearsal": 1, "segno": 1, "coda": 1, "metronome": 1, "scordatura": 1, "image": 1, "staff-divide": 1, "eyeglasses": 1,
	} {
		music := `"1." <direction><direction-type><` + kind + `>x</` + kind + `></direction-type></direction> E5:w | "2." C5:w`
		for i, want := range []int{1, second} {
			tree := shorthand.Part(t, music)
			_, err := divisi.Divide(lay(t, tree), divisi.Options{Players: pair(), Keep: i, Lexicon: lexicon})
			require.NoError(t, err)
			assert.Len(t, tree.FindElements("measure[1]/direction/direction-type/"+kind), want, "%s, player %d", kind, i+1)
		}
	}
	for _, kind := range []string{"rehearsal", "segno", "coda", "metronome"} { // words beside them are everybody's too
		tree := shorthand.Part(t, `"1." <direction><direction-type><words>x</words></direction-type><direction-type><`+kind+`/></direction-type></direction> E5:w | "2." C5:w`)
		_, err := divisi.Divide(lay(t, tree), divisi.Options{Players: pair(), Keep: 1, Lexicon: lexicon})
		require.NoError(t, err)
		assert.Len(t, tree.FindElements("measure[1]/direction/direction-type/words"), 1, kind)
	}
}

// A direction whose playback everybody follows is everybody's; one that only sounds another
// way is not (MusicXML 4.0, sound).
func TestWhoseSoundsAre(t *testing.T) {
	t.Parallel()
	lexicon, err := divisi.LoadLexicon()
	require.NoError(t, err)
	for sound, second := range map[string]int{
		`tempo="60"`: 1, `dacapo="yes"`: 1, `dalsegno="x"`: 1, `segno="x"`: 1, `coda="x"`: 1, `tocoda="x"`: 1, `fine="yes"`: 1, `forward-repeat="yes"`: 1, `dynamics="60"`: 0, `pizzicato="yes"`: 0, `pan="3"`: 0,
	} {
		tree := shorthand.Part(t, `"1." <direction><direction-type><words>x</words></direction-type><sound `+sound+`/></direction> E5:w | "2." C5:w`)
		_, err := divisi.Divide(lay(t, tree), divisi.Options{Players: pair(), Keep: 1, Lexicon: lexicon})
		require.NoError(t, err)
		assert.Len(t, tree.FindElements("measure[1]/direction/direction-type/words"), second, sound)
	}
}

// Comments and processing instructions stay where they stand.
func TestCommentsStay(t *testing.T) {
	t.Parallel()
	lexicon, err := divisi.LoadLexicon()
	require.NoError(t, err)
	tree := shorthand.Part(t, `"1." E5:w | "2." C5:w`)
	tree.FindElement("measure[1]").InsertChildAt(1, etree.NewComment("first"))
	tree.FindElement("measure[1]").InsertChildAt(2, etree.NewProcInst("x", "y"))
	tree.FindElement("measure[2]").AddChild(etree.NewComment("second"))
	_, err = divisi.Divide(lay(t, tree), divisi.Options{Players: pair(), Keep: 1, Lexicon: lexicon})
	require.NoError(t, err)
	assert.Equal(t, openingDetail+`<!--first--> r:96 | C5:96 <!--second-->`, detailed(tree))
	assert.Len(t, tree.FindElement("measure[1]").Child, 4)
}
