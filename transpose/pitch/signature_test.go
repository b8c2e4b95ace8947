package pitch_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/transpose/pitch"
)

// signatures are the fifteen signatures letter by letter, in the order in which
// sharps and flats are added: F C G D A E B and its reverse (common practice).
func TestSignatureAlter(t *testing.T) {
	t.Parallel()
	sharps := []pitch.Step{pitch.F, pitch.C, pitch.G, pitch.D, pitch.A, pitch.E, pitch.B}
	for fifths := -7; fifths <= 7; fifths++ {
		want := map[pitch.Step]int{}
		for i := 0; i < fifths; i++ {
			want[sharps[i]] = 1
		}
		for i := 0; i < -fifths; i++ {
			want[sharps[6-i]] = -1
		}
		for step := pitch.C; step <= pitch.B; step++ {
			assert.Equal(t, want[step], pitch.SignatureAlter(fifths, step), "%d fifths, %s", fifths, step)
		}
	}
	assert.Equal(t, 2, pitch.SignatureAlter(8, pitch.F), "G sharp major has F double sharp (line of fifths)")
	assert.Equal(t, 1, pitch.SignatureAlter(8, pitch.C))
	assert.Equal(t, -2, pitch.SignatureAlter(-8, pitch.B), "F flat major has B double flat (line of fifths)")
}

// A major scale moved by any interval is the major scale of the moved key.
func TestKeysMoveAsTheirScales(t *testing.T) {
	t.Parallel()
	for fifths := -7; fifths <= 7; fifths++ {
		for _, by := range everyInterval() {
			moved := fifths + by.Fifths()
			for step := pitch.C; step <= pitch.B; step++ {
				p := pitch.Pitch{Step: step, Alter: pitch.Semitones(pitch.SignatureAlter(fifths, step)), Octave: 4}
				got := by.Apply(p)
				require.Equal(t, pitch.Semitones(pitch.SignatureAlter(moved, got.Step)), got.Alter,
					"%s of %d fifths moved by %s is %s, foreign to %d fifths", p, fifths, by, got, moved)
			}
		}
	}
}

func TestTwin(t *testing.T) {
	t.Parallel()
	rows := []struct {
		fifths, twin int
		why          string
	}{
		{7, -5, "C sharp and D flat"}, {6, -6, "F sharp and G flat"}, {5, -7, "B and C flat"},
		{-7, 5, "C flat and B"}, {-6, 6, "G flat and F sharp"}, {-9, 3, "B double flat and A (trade/notation-rules.md §6: concert G flat, clarinet in A)"},
		{9, -3, "D sharp and E flat (concert seven sharps, clarinet in B flat)"}, {-8, 4, "F flat and E"},
	}
	for _, row := range rows {
		assert.Equal(t, row.twin, pitch.Twin(row.fifths), row.why)
	}
	for step := pitch.C; step <= pitch.B; step++ {
		for fifths := 1; fifths <= 9; fifths++ {
			a := pitch.Pitch{Step: step, Alter: pitch.Semitones(pitch.SignatureAlter(fifths, step)), Octave: 4}
			b := pitch.Interval{Diatonic: 1}.Apply(a)
			assert.Equal(t, pitch.Semitones(pitch.SignatureAlter(pitch.Twin(fifths), b.Step)), b.Alter,
				"a tone of %d fifths, taken by its upper neighbour, belongs to the twin", fifths)
		}
	}
}
