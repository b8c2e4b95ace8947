package octaves_test

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/octaves"
)

// From the highest note of a moment up to that of the next, in semitones; nothing where either
// is not fingered at its pitch, or where the part begins.
func TestLeaps(t *testing.T) {
	t.Parallel()
	at := func(bar int64, sound int, elsewhere bool) octaves.Note {
		return octaves.Note{At: musicxml.Position{Measure: int(bar)}, Start: musicxml.NewFraction(4*bar, 1), End: musicxml.NewFraction(4*bar+4, 1), Sound: sound, Elsewhere: elsewhere}
	}
	for _, row := range []struct {
		line   []octaves.Note
		leaps  []int
		sounds [][]int
	}{
		{[]octaves.Note{at(0, 60, false), at(1, 67, false), at(2, 65, false)}, []int{0, 7, -2}, [][]int{{60}, {67}, {65}}},
		{[]octaves.Note{at(0, 60, false), at(0, 64, false), at(1, 72, false), at(1, 62, false)}, []int{0, 8}, [][]int{{60, 64}, {72, 62}}},
		{[]octaves.Note{at(0, 64, false), at(0, 60, false), at(1, 72, false)}, []int{0, 8}, [][]int{{64, 60}, {72}}},
		{[]octaves.Note{at(1, 67, false), at(0, 60, true), at(2, 65, true), at(3, 60, false)}, []int{0, 0, 0, 0}, [][]int{nil, {67}, nil, {60}}},
	} {
		part, err := music.Read(&musicxml.Timeline{Measures: make([]musicxml.Measure, 4)})
		require.NoError(t, err)
		phrases, places := octaves.MarksOf(part).Cut(row.line)
		var leaps []int
		var sounds [][]int
		for i, p := range phrases {
			assert.Equal(t, musicxml.Position{Measure: i}, places[i])
			leaps, sounds = append(leaps, p.Leap), append(sounds, p.Sounds)
		}
		assert.Equal(t, row.leaps, leaps)
		assert.Equal(t, row.sounds, sounds)
	}
}

// Where the octave may change, on a line of music each: what belongs together has no
// bar between. The names are those of the breaks before each phrase but the first.
func TestCut(t *testing.T) {
	t.Parallel()
	names := map[octaves.Break]string{octaves.AtBar: "bar", octaves.AtBreath: "breath", octaves.AtGap: "gap", octaves.AtRest: "rest"}
	for _, test := range []struct {
		why, music string
		phrases    []int // how many notes each has
		breaks     []string
	}{
		{"a barline is a place, the middle of a bar is none", "C5:q D5:q E5:q F5:q | G5:w", []int{4, 1}, []string{"bar"}},
		{"a tuplet that begins with a rest", "C5:q r:et[ D5:et E5:et] F5:h", []int{1, 3}, []string{"gap"}},
		{"a rest", "C5:q r:q E5:h", []int{1, 1}, []string{"gap"}},
		{"a bar of rest", "C5:w | R | E5:w", []int{1, 1}, []string{"rest"}},
		{"the end of a slur, and its beginning", "C5:q( D5:q) E5:q F5:q", []int{2, 2}, []string{"breath"}},
		{"before a slur", "C5:q D5:q E5:q( F5:q)", []int{2, 2}, []string{"bar"}},
		{"a slur over the barline", "C5:h D5:h( | E5:h) F5:h", []int{1, 2, 1}, []string{"bar", "breath"}},
		{"a tie over the barline: the next note is in the middle of a bar", "C5:h D5:h~ | D5:h^ F5:h", []int{3}, nil},
		{"a pause", "C5:q? D5:q E5:h", []int{1, 2}, []string{"breath"}},
		{"a slur that ends on a tied note: the phrase ends with the tie", "C5:h( D5:h~) | D5:h^ F5:h", []int{2, 1}, []string{"breath"}},
		{"a slide over the barline", "C5:w«<slide·type=\"start\"·number=\"1\"/>» | G5:h«<slide·type=\"stop\"·number=\"1\"/>» F5:h", []int{3}, nil},
		{"a glissando over the barline", "C5:w«<glissando·type=\"start\"·number=\"1\"/>» | G5:h«<glissando·type=\"stop\"·number=\"1\"/>» F5:h", []int{3}, nil},
		{"a tremolo between two notes over the barline", "C5:w«<ornaments><tremolo·type=\"start\">2</tremolo></ornaments>» | G5:h«<ornaments><tremolo·type=\"stop\">2</tremolo></ornaments>» F5:h", []int{3}, nil},
		{"a trill's line binds nothing", "C5:w«<ornaments><wavy-line·type=\"start\"·number=\"1\"/></ornaments>» | G5:h«<ornaments><wavy-line·type=\"stop\"·number=\"1\"/></ornaments>» F5:h", []int{1, 2}, []string{"bar"}},
		{"a breath mark, a caesura", "C5:q«<articulations><breath-mark/></articulations>» D5:q E5:q«<articulations><caesura/></articulations>» F5:q", []int{1, 2, 1}, []string{"breath", "breath"}},
		{"a beam over the barline", "C5:h C5:q D5:e D5:e{ | E5:e} F5:e F5:hd", []int{7}, nil},
		{"a beam that ends at the barline", "C5:hd D5:e{ D5:e} | E5:e F5:e F5:hd", []int{3, 3}, []string{"bar"}},
		{"another voice's beam", "C5:h E5:h / C4:hd r:e D4:e{ | F5:h G5:h / D4:e} E4:e r:hd", []int{8}, nil},
		{"an end of a beam that never began", "C5:w | D5:e} E5:e F5:hd", []int{1, 3}, []string{"bar"}},
		{"a second beam binds no more than the first", `C5:hd D5:e{ <note><pitch><step>E</step><octave>5</octave></pitch><duration>12</duration><voice>1</voice><type>eighth</type><beam number="1">end</beam><beam number="2">begin</beam></note> | <note><pitch><step>E</step><octave>5</octave></pitch><duration>96</duration><voice>1</voice><type>whole</type><beam number="2">end</beam></note>`, []int{3, 1}, []string{"bar"}},
		{"a tuplet over the barline", "C5:h C5:h[ | D5:h] E5:h", []int{4}, nil},
		{"a slur from a note to a rest binds nothing", "C5:w( | r:h) E5:h", []int{1, 1}, []string{"gap"}},
		{"a slur that never ends binds nothing", "C5:w( | D5:w", []int{1, 1}, []string{"bar"}},
		{"a slur that never began ends a phrase", "C5:q) D5:hd", []int{1, 1}, []string{"breath"}},
		{"after a rest", "r:q C5:q( D5:q) E5:q", []int{2, 1}, []string{"breath"}},
		{"a long slur and a short one in it", "C5:h( D5:h«<slur·type=\"start\"·number=\"2\"/>» | E5:h«<slur·type=\"stop\"·number=\"2\"/>» F5:h | G5:h F5:h)", []int{6}, nil},
		{"a slur that has ended before the barline", "C5:q( D5:q E5:q) F5:q | G5:w", []int{3, 1, 1}, []string{"breath", "bar"}},
		{"bars of rest after a rest", "C5:h r:h | R | R | E5:w", []int{1, 1}, []string{"rest"}},
		{"a rest over the barline", "C5:h r:h | r:h E5:h", []int{1, 1}, []string{"gap"}},
		{"a bar in which only another voice plays", "C5:w | r:w / C4:w | E5:w", []int{1, 1, 1}, []string{"bar", "bar"}},
		{"a chord is one moment", "C5+E5:w | D5+F5:w", []int{2, 2}, []string{"bar"}},
		{"a voice that holds a note while another moves", "C5:w / C4:q D4:q E4:q F4:q | G4:w", []int{5, 1}, []string{"bar"}},
	} {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromBytes(shorthand.Score(t, shorthand.Entry{Name: "Flute", Music: test.music})))
		part, err := music.ReadPart(doc.FindElement("//part"))
		require.NoError(t, err)
		var line []octaves.Note
		for i := range part.Notes {
			if n := &part.Notes[i]; n.Pitched() && n.Struck() {
				line = append(line, octaves.Note{At: musicxml.Position{Measure: n.Measure, Onset: n.Onset}, Start: n.Start, End: n.Start.Add(n.Held()), Sound: n.Pitch.NoteNumber()})
			}
		}
		marks := octaves.MarksOf(part)
		busy := 0
		for _, bar := range strings.Split(test.music, " | ") {
			if bar != "R" {
				busy++
			}
		}
		assert.Equal(t, busy, marks.BusyBars(), test.why)
		phrases, places := marks.Cut(line)
		require.Len(t, places, len(phrases), test.why)
		var sizes []int
		var breaks []string
		for i, p := range phrases {
			sizes = append(sizes, len(p.Sounds))
			if i > 0 {
				breaks = append(breaks, names[p.Before])
			}
		}
		assert.Equal(t, test.phrases, sizes, test.why)
		assert.Equal(t, test.breaks, breaks, test.why)
	}
}
