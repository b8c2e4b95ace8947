package instruments_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
)

// TestNote: MIDI numbers from MIDI 1.0 (60 is middle C); octave numbers change at C
// (intmus-1b).
func TestNote(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		text string
		midi int
		why  string
	}{
		{"C4", 60, "middle C"},
		{"A4", 69, "concert A"},
		{"Cb4", 59, "the number stays with the letter: sounds as B3"},
		{"B#3", 60, "the number stays with the letter: sounds as C4"},
		{"Bb1", 34, "lowest bassoon note"},
		{"F##5", 79, "double sharp"},
		{"Ebb2", 38, "double flat"},
		{"C-1", 0, "lowest MIDI number"},
	} {
		n, err := instruments.ParseNote(test.text)
		require.NoError(t, err, test.text)
		assert.Equal(t, test.midi, n.MIDI(), test.why)
		assert.Equal(t, test.text, n.String())
	}
	for _, bad := range []string{"", "H4", "c4", "C", "Cbbb4", "C#b4", "C44", "4", "C4x"} {
		_, err := instruments.ParseNote(bad)
		assert.Error(t, err, bad)
	}
}

func TestNoteMoved(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		from                string
		diatonic, chromatic int
		want, why           string
	}{
		{"C4", -1, -2, "Bb3", "clarinet in B flat"},
		{"C4", -12, -21, "Eb2", "baritone saxophone"},
		{"C4", -4, -6, "F#3", "horn in F sharp"},
		{"B3", 1, 1, "C4", "over the octave"},
		{"C4", 0, 0, "C4", "not at all"},
		{"E4", 6, 10, "D5", "up a minor seventh"},
	} {
		n, err := instruments.ParseNote(test.from)
		require.NoError(t, err)
		moved := n.Moved(test.diatonic, test.chromatic)
		assert.Equal(t, test.want, moved.String(), test.why)
		assert.Equal(t, n, moved.Moved(-test.diatonic, -test.chromatic), "and back")
	}
}
