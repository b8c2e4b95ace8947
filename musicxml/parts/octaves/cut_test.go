package octaves_test

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/octaves"
)

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
		{"a voice that holds a note while another moves", "C5:w / C4:q D4:q E4:q F4:q | G4:w", []int{5, 1}, []string{"bar"}},
	} {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromBytes(shorthand.Score(t, shorthand.Entry{Name: "Flute", Music: test.music})))
		timeline, err := musicxml.NewTimeline(doc.FindElement("//part"))
		require.NoError(t, err)
		part, err := music.Read(timeline)
		require.NoError(t, err)
		var line []octaves.Note
		for i := range part.Notes {
			if n := &part.Notes[i]; n.Pitched() && n.Struck() {
				line = append(line, octaves.Note{At: musicxml.Position{Measure: n.Measure, Onset: n.Onset}, Start: n.Start, End: n.Start.Add(n.Held()), Sound: n.Pitch.NoteNumber()})
			}
		}
		phrases, places := octaves.MarksOf(part).Cut(line)
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
