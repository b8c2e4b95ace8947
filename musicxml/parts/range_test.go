package parts_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Ranges are the professional ones of the catalogue, whose lowest flute note is B3
// and whose lowest note of a clarinet in B flat is written E3 (trade/ranges.csv).
func TestRangeWarnings(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, why, part, instrument, music string
		below, above                       []string
	}{
		{"in range", "", "Flute", "", "treble C4 C5 C6 B3", nil, nil},
		{"below", "A3 is not on the flute; once a bar, at the first", "Flute", "", "treble C4 A3 G3 C4 | A3:w", []string{"1:2", "2:1"}, nil},
		{"above", "", "Flute", "", "treble C4:h C8:h", nil, []string{"1:3"}},
		{"a flat at the edge", "B flat 3 is not on the flute", "Flute", "", "treble C4 Bb3", []string{"1:2"}, nil},
		{"a sharp at the edge", "A sharp 3 is not either; B sharp 3 is C4", "Flute", "", "treble B#3 A#3", []string{"1:2"}, nil},
		{"one a bar at most", "the first that is out of range", "Flute", "", "treble A3 C8", []string{"1:1"}, nil},
		{"sounding against the transposition", "sounding D3 is the clarinet's written E3, its lowest", "Clarinet in Bb", "", "treble D3 C3", []string{"1:2"}, nil},
		{"the part says its transposition", "written D3 is below the clarinet's lowest", "Clarinet in Bb", "", "[transpose -1 -2] treble E3 D3", []string{"1:2"}, nil},
		{"the part says another transposition", "it is not known what is played", "Clarinet in Bb", "", "[transpose 0 0 1] treble E3 C3", nil, nil},
		{"the transposition is said later", "so the notes before sound as they stand", "Clarinet in Bb", "", "treble D3:h C3:h | [transpose -1 -2] E3:h D3:h", []string{"2:3"}, nil},
		{"another instrument by plan", "the violin's G3 is below the flute, which takes the octave that suits", "Violin", "flute", "treble G3 G4", nil, nil},
		{"another instrument that no octave suits", "C7 is the flute's highest, so that G3 is missing", "Violin", "flute", "treble G3 C7", []string{"1:1"}, nil},
		{"octave instrument that says nothing", "a piccolo part in a score in C is read as it is written: D4 is its lowest", "Piccolo", "", "treble D4 D5 C4", []string{"1:3"}, nil},
		{"grace notes", "they are played", "Flute", "", "treble g!A3 C4", []string{"1:1"}, nil},
		{"harmonics sound elsewhere", "the touched note says nothing of the sound", "Violin", "", "treble E9:w«<technical><harmonic><artificial/></harmonic></technical>»", nil, nil},
		{"no pitch", "percussion has no range", "Snare Drum", "", "percussion u!C5", nil, nil},
		{"unknown instrument", "nothing to hold it against", "Theremophone", "", "treble C1 C9", nil, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			made := handedTo(t, scoreOf(t, row.part, music(t, row.music)), row.instrument, "")
			assert.Equal(t, row.below, warned(made, "below-range"), row.why)
			assert.Equal(t, row.above, warned(made, "above-range"), row.why)
		})
	}
}

func TestRangeWarningInWords(t *testing.T) {
	t.Parallel()
	made := ownPart(t, "Clarinet in Bb", "treble C3")
	require.Len(t, warned(made, "below-range"), 1)
	for _, w := range made.sheet.Report.Warnings {
		if w.Code == "below-range" {
			assert.Equal(t, "written D3 lies below the range of Clarinet in B♭, which ends at written E3", w.Text)
		}
	}
}
