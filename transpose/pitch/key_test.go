package pitch_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/transpose/pitch"
)

func TestParseKey(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"-3":        "Eb major or C minor, -3", // a signature alone has two keys
		"+2":        "D major or B minor, 2",   // a plus does no harm
		" 0 ":       "C major or A minor, 0",   // no signs
		"Eb":        "Eb major, -3",            // a name alone is major
		"E♭":        "Eb major, -3",            // the sign itself
		"F# minor":  "F# minor, 3",             // the relative of A major
		"c# minor":  "C# minor, 4",             // a small letter is understood
		"c#  Minor": "C# minor, 4",             // so are capitals and spaces
		"Am":        "A minor, 0",              // as chord symbols say it
		"Bbm":       "Bb minor, -5",            // as chord symbols say it
		"Gb major":  "Gb major, -6",            // the far end of the flats
		"Cb":        "Cb major, -7",            // the very end
		"C#":        "C# major, 7",             // the other end
		"A# minor":  "A# minor, 7",             // the end of the minor keys
		"Ab minor":  "Ab minor, -7",            // and the other
	} {
		k, err := pitch.ParseKey(text)
		require.NoError(t, err)
		assert.Equal(t, want, fmt.Sprintf("%s, %d", k, k.Fifths), text)
	}
	refused := []struct{ text, why string }{
		{"", "nothing"}, {" ", "nothing"}, {"8", "past seven signs"}, {"-8", "past seven signs"}, {"H", "a letter of German"},
		{"G# major", "eight sharps"}, {"Fb", "eight flats"}, {"D# minor minor", "a word too many"}, {"D dorian", "neither major nor minor"},
		{"C5", "a pitch is no key"}, {"C4 minor", "a pitch is no key"}, {"C(0.5)", "no key of microtones"}, {"C(1)", "nor by a decimal"},
		{"C-1", "a pitch"}, {"m", "no letter"}, {"minor", "no letter"}, {"Cm minor", "minor twice"}, {"C♯♭", "signs that undo each other"},
		{"1.5", "no half signs"}, {"C major or A minor", "two keys"}, {"é", "no letter"},
	}
	for _, row := range refused {
		k, err := pitch.ParseKey(row.text)
		assert.Error(t, err, "%q: %s", row.text, row.why)
		assert.Zero(t, k)
	}
	for text, says := range map[string]string{
		"8":  `key "8": a signature has at most seven sharps or flats`,
		"G#": `key "G#" would need 8 sharps; write its enharmonic twin`,
		"C5": `key "C5" is neither a number of fifths, such as -3, nor a name, such as Eb or F# minor`,
	} {
		_, err := pitch.ParseKey(text)
		assert.EqualError(t, err, says)
	}
}

// The circle of fifths as it is taught (common practice): each key with its
// signature and its relative.
func TestCircleOfFifths(t *testing.T) {
	t.Parallel()
	majors := []string{"Cb", "Gb", "Db", "Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "F#", "C#"}
	minors := []string{"Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "F#", "C#", "G#", "D#", "A#"}
	for i := range majors {
		for mode, tonics := range map[pitch.Mode][]string{pitch.Major: majors, pitch.Minor: minors} {
			k := pitch.Key{Fifths: i - 7, Mode: mode}
			assert.Equal(t, tonics[i], k.Tonic())
			assert.Equal(t, tonics[i][:1], k.TonicStep().String())
			read, err := pitch.ParseKey(k.String())
			require.NoError(t, err)
			assert.Equal(t, k, read)
		}
	}
}

// From trade/notation-rules.md §6: what a clarinet in B flat reads.
func TestKeysMove(t *testing.T) {
	t.Parallel()
	up := pitch.Interval{Diatonic: 1, Chromatic: 2}
	assert.Equal(t, "F major", pitch.Key{Fifths: -3, Mode: pitch.Major}.Moved(up).String(), "E flat moved up a tone")
	assert.Equal(t, "D minor", pitch.Key{Fifths: -3, Mode: pitch.Minor}.Moved(up).String(), "C minor moved up a tone")
}

func TestSignatureNotes(t *testing.T) {
	t.Parallel()
	// The order of sharps and flats is common knowledge.
	assert.Equal(t, "F# C# G# D# A# E# B#", pitch.SignatureNotes(7))
	assert.Equal(t, "Bb Eb Ab Db Gb Cb Fb", pitch.SignatureNotes(-7))
	assert.Equal(t, "", pitch.SignatureNotes(0))
	assert.Equal(t, "F# C# G# D# A# E# B# F##", pitch.SignatureNotes(8), "past seven, along the line of fifths")
}

func TestSignatureWords(t *testing.T) {
	t.Parallel()
	for fifths, want := range map[int]string{0: "no sharps or flats", 1: "1 sharp", -1: "1 flat", 3: "3 sharps", -7: "7 flats"} {
		assert.Equal(t, want, pitch.SignatureWords(fifths))
	}
}
