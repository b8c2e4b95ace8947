package reading_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Positions were counted on the staff by hand: 0 is the bottom line. The clefs
// are those of the Open Music Theory and Connexions primers
// (trade/notation-rules.md, section 8), the octave figure as in [cnx-clef].
func TestPosition(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, clef, pitch string
		want              int
	}{
		{"treble, bottom line", "G 2", "E4", 0},
		{"treble, middle C on its leger line", "G 2", "C4", -2},
		{"treble, top line", "G 2", "F5", 8},
		{"treble, alteration does not move the head", "G 2", "F##5", 8},
		{"bass, bottom line", "F 4", "G2", 0},
		{"bass, middle C", "F 4", "C4", 10},
		{"alto, middle C on the middle line", "C 3", "C4", 4},
		{"tenor, middle C on the fourth line", "C 4", "C4", 6},
		{"soprano, middle C on the bottom line", "C 1", "C4", 0},
		{"baritone, F on the middle line", "F 3", "F3", 4},
		{"French violin, G on the bottom line", "G 1", "G4", 0},
		{"treble with 8 below, middle C in the third space", "G 2 -1", "C4", 5},
		{"treble with 8 above", "G 2 1", "E5", 0},
		{"bass with 8 below", "F 4 -1", "G1", 0},
		{"line left out", "C", "C4", 4},
		{"none reads as treble", "none", "E4", 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			p := page(t, tune("["+clefXML(row.clef, "")+"] "+row.pitch))
			assert.Equal(t, row.want, p.Notes[0].Position)
			assert.Equal(t, row.pitch[:1]+row.pitch[len(row.pitch)-1:], fmt.Sprintf("%c%d", p.Notes[0].Read.String()[0], p.Notes[0].Read.Octave))
		})
	}
}

func clefXML(shorthand, attributes string) string {
	fields := strings.Fields(shorthand)
	xml := "<attributes><clef" + attributes + "><sign>" + fields[0] + "</sign>"
	for i, tag := range []string{"line", "clef-octave-change"} {
		if len(fields) > i+1 {
			xml += "<" + tag + ">" + fields[i+1] + "</" + tag + ">"
		}
	}
	return xml + "</clef></attributes>"
}

func TestClefChanges(t *testing.T) {
	t.Parallel()
	toBass := "[" + clefXML("F 4", "") + "]"
	lowerBass := "[" + clefXML("F 4", ` number="2"`) + "]"
	cueClef := "[" + clefXML("F 4", ` additional="yes"`) + "]"
	for _, row := range []struct {
		name, why, music string
		want             []int
	}{
		{"in mid-bar", "from its place on", "C4 " + toBass + " C4", []int{-2, 10}},
		{"told in the first voice, true for the second", "time, not document order", "C4 " + toBass + " C4 << C4 C4", []int{-2, -2, 10, 10}},
		{"on one staff", "MusicXML 4.0, clef number", lowerBass + " C4 << =2 C4", []int{-2, 10}},
		{"additional clef", "it is for the cue only", cueClef + " C4", []int{-2}},
		{"holds over the barline", "until the next clef", toBass + " C4 | C4", []int{10, 10}},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			var got []int
			for _, n := range page(t, tune(row.music)).Notes {
				got = append(got, n.Position)
			}
			assert.Equal(t, row.want, got, row.why)
		})
	}
}

// A printed 8va is an octave-shift of type "down" (MusicXML 4.0, octave-shift):
// the head stands an octave, that is seven places, below the pitch.
func TestOctaveLines(t *testing.T) {
	t.Parallel()
	line := func(kind string, size int) string {
		return fmt.Sprintf(`[<direction><direction-type><octave-shift type="%s" size="%d"/></direction-type></direction>]`, kind, size)
	}
	music := "E5 " + line("down", 8) + " E5 F#5<sharp> " + line("stop", 8) + " F5 | " +
		line("down", 15) + " E6 " + line("stop", 15) + line("up", 8) + " E3 " + line("stop", 8)
	p := page(t, tune(music))
	var got []int
	for _, n := range p.Notes {
		got = append(got, n.Position)
	}
	assert.Equal(t, []int{7, 0, 1, 8, 0, 0}, got)
	assert.Len(t, p.Mismatches(), 1, "F5 after the line: the sharp was for F5 in sound")
}

func TestClefsThatAreNotRead(t *testing.T) {
	t.Parallel()
	for _, sign := range []string{"percussion", "TAB", "jianpu"} {
		p := page(t, tune("["+clefXML(sign, "")+"] F#4"))
		assert.Empty(t, p.Mismatches(), "%s: places on the staff are no pitches", sign)
	}
}
