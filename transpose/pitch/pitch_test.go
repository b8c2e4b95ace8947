package pitch_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/transpose/pitch"
)

// What is no note's name is refused in words, with what was said.
func TestParseNameRefuses(t *testing.T) {
	t.Parallel()
	for text, says := range map[string]string{"": "not a note such as C, F# or Bb", "H": `"H": not a note such as C, F# or Bb`, "C#b": `"C#b": not a note such as C, F# or Bb`, "Cis": `"Cis": not a note such as C, F# or Bb`} {
		_, err := pitch.ParseName(text)
		assert.EqualError(t, err, says)
	}
	for _, text := range []string{"#b", "y", "#####", "bbbbb", "(5)", "(-5)"} {
		_, err := pitch.ParseSigns(text)
		assert.EqualError(t, err, "not sharps or flats such as #, x or bb", text)
	}
}

func TestParsePitch(t *testing.T) {
	t.Parallel()
	rows := []struct {
		text, want string
		midi       int
		why        string
	}{
		{"C4", "C4", 60, "middle C is MIDI 60 (MIDI 1.0)"},
		{"A4", "A4", 69, "the tuning note"},
		{"Cb4", "Cb4", 59, "the octave number stays with the letter (trade/notation-rules.md §1)"},
		{"B#3", "B#3", 60, "the same key as C4"},
		{"F#3", "F#3", 54, "contract: scientific pitch in ASCII"},
		{"Bb4", "Bb4", 70, "contract"},
		{"C##5", "C##5", 74, "contract"},
		{"Ebb2", "Ebb2", 38, "contract"},
		{"Cx5", "C##5", 74, "x is the double sharp's own shape"},
		{"f♯3", "F#3", 54, "small letters and the signs themselves are understood"},
		{"B♭-1", "Bb-1", 10, "octaves below MusicXML's can be named"},
		{"G9", "G9", 127, "the top of MIDI"},
		{"C-9", "C-9", -96, "as far down as is read"}, {"C99", "C99", 1200, "as far up as is read"},
		{"C####4", "C####4", 64, "as many signs as are read"}, {"Cbbbb4", "Cbbbb4", 56, "as many signs as are read"},
		{"C(4)4", "C####4", 64, "a whole alteration as a decimal"},
		{"Bb1", "Bb1", 34, "the bassoon's lowest note (trade/ranges.csv)"},
		{"C-1", "C-1", 0, "the lowest MIDI number"},
	}
	for _, row := range rows {
		p, err := pitch.Parse(row.text)
		require.NoError(t, err, row.why)
		assert.Equal(t, row.want, p.String(), row.why)
		assert.Equal(t, pitch.Semitones(row.midi), p.MIDI(), row.why)
		assert.Equal(t, row.midi, p.NoteNumber(), row.why)
	}
}

func TestParsePitchRefuses(t *testing.T) {
	t.Parallel()
	for _, bad := range []string{"", "H4", "C", "4", "C#", "C#b4", "C4.5", "C########4", "C 4", "Cis4", "C999", "c-", "C(x)4", "C(0.5", "♯C4", "A(7)0", "A(-5)0", "C-10", "C100", "C#####4", "Cbbbbb4", "C(x4", "Cx)4"} {
		p, err := pitch.Parse(bad)
		assert.EqualError(t, err, fmt.Sprintf("%q: not a pitch such as C4, F#3 or Bb4", bad))
		assert.Zero(t, p)
	}
}

func TestPitchTextThereAndBack(t *testing.T) {
	t.Parallel()
	pitches := everyPitch()
	for _, alter := range microtones {
		pitches = append(pitches, pitch.Pitch{Step: pitch.G, Alter: alter, Octave: 3})
	}
	for _, p := range pitches {
		got, err := pitch.Parse(p.String())
		require.NoError(t, err, p.String())
		require.Equal(t, p, got)
	}
}

func TestParseAlter(t *testing.T) {
	t.Parallel()
	rows := []struct{ text, want, why string }{
		{"0", "0", ""}, {"-0", "0", "no negative nothing"}, {"1", "1", ""}, {"+1", "1", "xs:decimal allows the plus"},
		{"-1.50", "-1.5", "the same number"}, {" 0.5\n", "0.5", "white space collapses"}, {".5", "0.5", "xs:decimal"}, {"100", "100", "as far as is believed"}, {"-100.5", "-100.5", ""}, {"007", "7", "xs:decimal"},
		{"1.", "1", "xs:decimal"}, {"-.25", "-0.25", "xs:decimal"}, {"0.3333333333339", "0.333333333333", "twelve places are kept"},
	}
	for _, row := range rows {
		a, err := pitch.ParseAlter(row.text)
		require.NoError(t, err, row.text)
		assert.Equal(t, row.want, a.String(), "%s: %s", row.text, row.why)
	}
	for _, bad := range []string{"", "-", "+", ".", "--1", "+-1", "1-", "0x1", "1e0", "½", "1,5", "101", "99999999999999999999", "1.5.2", "1. 5", "0.-5", "0.333333333333x", "-101", "٣"} {
		a, err := pitch.ParseAlter(bad)
		assert.ErrorContains(t, err, "is not a number of semitones", bad)
		assert.Zero(t, a)
	}
}

// A microtone lies above the note whose number it is given; the number is exact for
// all others (MIDI 1.0).
func TestNoteNumberOfMicrotones(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]int{
		"C(0.5)4": 60, "C(-0.5)4": 59, // between 60 and 61, 59 and 60
		"B(-0.5)-2": -2, "C(-0.5)-1": -1, // below 0: -1.5 lies above -2, -0.5 above -1
	} {
		p, err := pitch.Parse(text)
		require.NoError(t, err)
		assert.Equal(t, want, p.NoteNumber(), text)
	}
}

func TestPlaces(t *testing.T) {
	t.Parallel()
	for place := -20; place <= 70; place++ {
		p := pitch.At(place)
		assert.Equal(t, place, p.Place())
		assert.Zero(t, p.Alter)
	}
	assert.Equal(t, "C4", pitch.At(28).String(), "four octaves of seven letters above C0")
	assert.Equal(t, "B-1", pitch.At(-1).String())
	assert.Equal(t, "?", pitch.Step(7).String())
	assert.Equal(t, "?", pitch.Step(-1).String())
}

func TestParseStep(t *testing.T) {
	t.Parallel()
	for i, letter := range []string{"C", "D", "E", "F", "G", "A", "B"} {
		step, err := pitch.ParseStep(letter)
		require.NoError(t, err)
		assert.Equal(t, pitch.Step(i), step)
	}
	for _, bad := range []string{"", "c", "H", "CD", "♯"} {
		_, err := pitch.ParseStep(bad)
		assert.EqualError(t, err, fmt.Sprintf("%q is not a note letter from A to G", bad))
	}
}

func TestFloorDiv(t *testing.T) {
	t.Parallel()
	// By the definition: the largest q with q·b ≤ a.
	for a := -30; a <= 30; a++ {
		q := pitch.FloorDiv(a, 7)
		assert.True(t, 7*q <= a && a < 7*q+7, "%d: %d", a, q)
	}
}
