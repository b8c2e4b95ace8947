package condense

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
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
		{"two slurs at a note", []string{"C5:h«<slur·type=\"start\"·number=\"1\"/><slur·type=\"start\"·number=\"2\"/>» D5:h«<slur·type=\"stop\"·number=\"1\"/><slur·type=\"stop\"·number=\"2\"/>»", "C5:h«<slur·type=\"start\"·number=\"1\"/><slur·type=\"start\"·number=\"2\"/>» D5:h«<slur·type=\"stop\"·number=\"1\"/><slur·type=\"stop\"·number=\"2\"/>»"}, voices},
		{"two ends at a note", []string{"C5:h D5:h«<slur·type=\"stop\"·number=\"1\"/><slur·type=\"stop\"·number=\"2\"/>»", "C5:h D5:h«<slur·type=\"stop\"·number=\"1\"/><slur·type=\"stop\"·number=\"2\"/>»"}, voices},
		{"an end and a beginning", []string{"C5:h D5:h«<slur·type=\"stop\"·number=\"1\"/><slur·type=\"start\"·number=\"2\"/>»", "C5:h D5:h«<slur·type=\"stop\"·number=\"1\"/><slur·type=\"start\"·number=\"2\"/>»"}, unison},
		{"other beams", []string{"E5:e{ F5:e} G5:q G5:h", "C5:e D5:e E5:q E5:h"}, voices},
		{"another syllable", []string{"E5:w'la'", "C5:w'lo'"}, voices},
		{"the same syllable", []string{"E5:w'la'", "C5:w'la'"}, chords},
		{"ties of one alone", []string{"E5:w~", "C5:w"}, chords},
		{"the same note, tied in one", []string{"C5:w~", "C5:w"}, voices},
		{"grace notes", []string{"g!F5:e E5:w", "g!D5:e C5:w"}, voices},
		{"the same grace notes", []string{"g!F5:e E5:w", "g!F5:e E5:w"}, unison},
		{"a triplet against plain notes", []string{"E5:qt F5:qt G5:qt G5:h", "C5 D5 E5:h"}, voices},
		{"strokes without pitch", []string{"u!E5:w", "u!C5:w"}, voices},
	} {
		bars := make([]*musicxml.Measure, len(row.music))
		for i, music := range row.music {
			bars[i] = &laid(t, music).Measures[0]
		}
		assert.Equal(t, row.want, kindOf(bars), row.why)
	}
	bar := &laid(t, "C5:w").Measures[0]
	assert.Equal(t, alone, kindOf([]*musicxml.Measure{bar, nil}), "a part that is shorter")
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
