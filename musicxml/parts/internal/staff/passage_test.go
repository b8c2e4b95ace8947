package staff

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/draft"
)

func pageOf(t *testing.T, music string) (*Page, *draft.Draft) {
	t.Helper()
	part := shorthand.Part(t, music)
	timeline, err := musicxml.NewTimeline(part)
	require.NoError(t, err)
	d := &draft.Draft{Part: part, Timeline: timeline}
	var p Page
	require.NoError(t, p.Read(d))
	return &p, d
}

// TestPassages: within which notes no clef may change, worked by hand: what is tied, slurred,
// beamed or held belongs together; and how well a change stands before each (part-preparation,
// 4: best after rests and at bar lines).
func TestPassages(t *testing.T) {
	t.Parallel()
	rooms := map[changeRoom]string{inBar: "-", AfterRest: "r", atBar: "|", AfterRestBar: "|r"}
	for _, row := range []struct{ why, music, want string }{
		{"notes apart", "C5 D5 E5 F5 | G5:w", "|C5 -D5 -E5 -F5 |G5"}, {"after rests", "C5 r D5:h | R | E5:w | r:h C5:h", "|C5 rD5 |rE5 |rC5"},
		{"a rest at the end of a bar", "C5:h r:h | E5:w", "|C5 |rE5"}, {"a tie", "C5:h~ C5:h^ | D5:w", "|C5+C5 |D5"},
		{"a tie over the bar line", "C5:h D5:h~ | D5:w^", "|C5 -D5+D5"}, {"a slur", "C5( D5 E5) F5", "|C5+D5+E5 -F5"},
		{"a slur over a rest", "C5( r E5) F5", "|C5+E5 -F5"},
		{"slurs inside each other", "C5«<slur·type=\"start\"·number=\"1\"/>» D5«<slur·type=\"start\"·number=\"2\"/>» E5«<slur·type=\"stop\"·number=\"2\"/>» F5«<slur·type=\"stop\"·number=\"1\"/>» | G5:w", "|C5+D5+E5+F5 |G5"},
		{"slurs after each other", "C5( D5) E5( F5)", "|C5+D5 -E5+F5"}, {"a slur that never ends", "C5( D5 E5:h | F5:w", "|C5 -D5 -E5 |F5"},
		{"the end of another slur", "C5( D5«<slur·type=\"stop\"·number=\"2\"/>» E5:h", "|C5 -D5 -E5"},
		{"a beam", "C5:e{ D5:e} E5:e{ F5:e} G5:h", "|C5+D5 -E5+F5 -G5"}, {"a beam of three", "C5:e{ D5:e- E5:e} r:e F5:h", "|C5+D5+E5 rF5"},
		{"a tuplet", "C5:qt[ D5:qt E5:qt] F5:h", "|C5+D5+E5 -F5"},
		{"a glissando", "C5«<glissando·type=\"start\"/>» D5«<glissando·type=\"stop\"/>» E5:h", "|C5+D5 -E5"},
		{"a slide", "C5«<slide·type=\"start\"/>» D5«<slide·type=\"stop\"/>» E5:h", "|C5+D5 -E5"},
		{"a tremolo between two notes", "C5:h«<ornaments><tremolo·type=\"start\">2</tremolo></ornaments>» D5:h«<ornaments><tremolo·type=\"stop\">2</tremolo></ornaments>»", "|C5+D5"},
		{"a tremolo of one", "C5:h«<ornaments><tremolo·type=\"single\">2</tremolo></ornaments>» D5:h", "|C5 -D5"},
		{"a trill line is no bond", "C5:h«<ornaments><wavy-line·type=\"start\"/></ornaments>» D5:h«<ornaments><wavy-line·type=\"stop\"/></ornaments>»", "|C5 -D5"},
		{"a chord", "C5+E5:h D5:h", "|C5+E5 -D5"}, {"a note held under others", "E5:h F5:h / C5:w", "|E5+C5+F5"},
		{"voices that move together", "E5:h F5:h / C5:h D5:h", "|E5+C5 -F5+D5"}, {"a grace note and its note", "g!D5:e C5:h E5:h", "|D5+C5 -E5"},
		{"a grace note in the bar, and its note", "C5:h g!D5:e E5:h", "|C5 -D5+E5"},
		{"grace notes at the end of the bar, one a chord", "C5:h D5:h g!E5+G5:e g!F5:e | F5:w", "|C5 -D5+E5+G5+F5 |F5"},
		{"a grace note at the end of the bar", "C5:h D5:h g!E5:e | F5:w", "|C5 -D5+E5 |F5"},
		{"a slur of another voice", "C5( D5:hd / A4 B4) G4:h", "|C5+A4 -D5+B4+G4"},
	} {
		p, d := pageOf(t, row.music)
		inTime := p.InTime(1)
		var texts []string
		for _, passage := range p.Passages(inTime, d.Timeline.Measures) {
			var names []string
			for _, k := range inTime[passage.First:passage.Last] {
				names = append(names, musicxml.ChildText(p.Notes[k].Pitch, "step")+musicxml.ChildText(p.Notes[k].Pitch, "octave"))
			}
			texts = append(texts, rooms[passage.Start]+strings.Join(names, "+"))
		}
		assert.Equal(t, row.want, strings.Join(texts, " "), row.why)
	}
}

// TestPlacesOnTheStaff: 0 is the bottom line, 8 the top one (five lines); an 8va or 15ma line
// prints notes one or two octaves lower, an 8vb higher (MusicXML 4.0, octave-shift), until its
// stop.
func TestPlacesOnTheStaff(t *testing.T) {
	t.Parallel()
	shift := func(kind, rest string) string {
		return `<direction><direction-type><octave-shift type="` + kind + `"` + rest + `/></direction-type></direction> `
	}
	for _, row := range []struct{ why, music, want string }{
		{"the treble clef", "treble E4 G4 F5 C4 | A5 D4 B4 E5", "0 2 8 -2 10 -1 4 7"},
		{"without a clef it is that", "E4 G4 F5 C4", "0 2 8 -2"},
		{"bass and tenor", "bass G2 C4 tenor C4 A3", "0 10 6 4"},
		{"a clef with its 8", `<attributes><clef><sign>G</sign><line>2</line><clef-octave-change>-1</clef-octave-change></clef></attributes> E3 E4 C4:h`, "0 7 5"},
		{"8va", "treble " + shift("down", ` size="8"`) + "E5 F5 " + shift("stop", ` size="8"`) + "E5:h", "0 1 7"},
		{"15ma", "treble " + shift("down", ` size="15"`) + "E6 F6 " + shift("stop", ` size="15"`) + "E5:h", "0 1 7"},
		{"8vb", "treble " + shift("up", ` size="8"`) + "E3 F3 " + shift("stop", ` size="8"`) + "E4:h", "0 1 0"},
		{"no size is one octave", "treble " + shift("down", "") + "E5 F5 " + shift("stop", "") + "E5:h", "0 1 7"},
		{"a size that is none", "treble " + shift("down", ` size="x"`) + "E5 F5 " + shift("stop", "") + "E5:h", "0 1 7"},
		{"one that goes on", "treble " + shift("down", "") + "E5 " + shift("continue", "") + "F5 " + shift("stop", "") + "E5:h", "0 1 7"},
		{"one that never stops", "treble " + shift("down", "") + "E5 F5 G5:h | E5:w", "0 1 2 0"},
		{"a second begins: the first is over", "treble " + shift("down", "") + "E5 " + shift("down", ` size="15"`) + "E6 " + shift("stop", "") + "E5:h", "0 0 7"},
		{"two at once", "treble " + shift("down", ` number="1"`) + "E5 " + shift("down", ` number="2"`) + "E6 " + shift("stop", ` number="2"`) + "E5 " + shift("stop", ` number="1"`) + "E5", "0 0 0 7"},
		{"the stop of another", "treble " + shift("down", ` number="1"`) + "E5 " + shift("stop", ` number="2"`) + "E5:hd", "0 0"},
		{"a clef before a grace note", "treble E4:h bass g!G2:e C3:h", "0 0 3"},
		{"strokes as they are shown", "treble u!E4 u!F5 C5:h", "0 8 5"},
	} {
		p, _ := pageOf(t, row.music)
		var got []string
		for i := range p.Notes {
			got = append(got, fmt.Sprint(p.Notes[i].was))
		}
		assert.Equal(t, row.want, strings.Join(got, " "), row.why)
	}
}

// TestPlaceForSingers: words below the staff, what says how loud above it (spnm), and no
// place that was drawn for another page; anything else stays.
func TestPlaceForSingers(t *testing.T) {
	t.Parallel()
	direction := func(inner string) string {
		return `<direction placement="below"><direction-type>` + inner + `</direction-type></direction> `
	}
	music := direction(`<dynamics default-y="-80"><p/></dynamics>`) + direction(`<wedge type="crescendo"/>`) + direction(`<words>dolce</words>`) + "C5:h'la' D5:h«<dynamics·placement=\"below\"·relative-y=\"3\"><f/></dynamics><fermata·placement=\"below\"/>»"
	for _, sings := range []bool{true, false} {
		_, d := pageOf(t, music)
		d.Assignment = assign.Assignment{Sings: sings}
		require.NoError(t, PlaceForSingers(d))
		var got []string
		for _, e := range d.Part.FindElements("//direction") {
			got = append(got, e.Tag+"."+e.SelectAttrValue("placement", "-"))
		}
		for _, e := range d.Part.FindElements("//note/*") {
			if e.Tag == "lyric" {
				got = append(got, e.Tag+"."+e.SelectAttrValue("placement", "-"))
			}
		}
		for _, e := range d.Part.FindElements("//notations/*") {
			got = append(got, e.Tag+"."+e.SelectAttrValue("placement", "-"))
		}
		want := "direction.above direction.above direction.below lyric.below dynamics.above fermata.below"
		if !sings {
			want = "direction.below direction.below direction.below lyric.- dynamics.below fermata.below"
		}
		assert.Equal(t, want, strings.Join(got, " "))
		assert.Equal(t, sings, d.Part.FindElement("//direction-type/dynamics").SelectAttr("default-y") == nil)
		assert.Equal(t, sings, d.Part.FindElement("//notations/dynamics").SelectAttr("relative-y") == nil)
	}
}

// A number that no staff has is that of the nearest; one that the page has not heard of is five
// lines (MusicXML 4.0, staff-lines).
func TestStaffNumbers(t *testing.T) {
	t.Parallel()
	var p Page
	assert.Equal(t, 5, p.staff(2).lines)
	assert.Len(t, p.Staves, 2)
	assert.Same(t, &p.Staves[0], p.staff(0))
	assert.Same(t, &p.Staves[0], p.staff(-1))
	assert.Same(t, p.staff(1<<40), p.staff(maxStaves))
	assert.Len(t, p.Staves, maxStaves)
}
