package transpose_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/transpose"
)

// signatures are the fifteen signatures letter by letter, in the order in which
// sharps and flats are added: F C G D A E B and its reverse (common practice).
func TestSignatureAlter(t *testing.T) {
	t.Parallel()
	sharps := []transpose.Step{transpose.F, transpose.C, transpose.G, transpose.D, transpose.A, transpose.E, transpose.B}
	for fifths := -7; fifths <= 7; fifths++ {
		want := map[transpose.Step]int{}
		for i := 0; i < fifths; i++ {
			want[sharps[i]] = 1
		}
		for i := 0; i < -fifths; i++ {
			want[sharps[6-i]] = -1
		}
		for step := transpose.C; step <= transpose.B; step++ {
			assert.Equal(t, want[step], transpose.SignatureAlter(fifths, step), "%d fifths, %s", fifths, step)
		}
	}
	assert.Equal(t, 2, transpose.SignatureAlter(8, transpose.F), "G sharp major has F double sharp (line of fifths)")
	assert.Equal(t, 1, transpose.SignatureAlter(8, transpose.C))
	assert.Equal(t, -2, transpose.SignatureAlter(-8, transpose.B), "F flat major has B double flat (line of fifths)")
}

// A major scale moved by any interval is the major scale of the moved key.
func TestKeysMoveAsTheirScales(t *testing.T) {
	t.Parallel()
	for fifths := -7; fifths <= 7; fifths++ {
		for _, by := range everyInterval() {
			moved := fifths + by.Fifths()
			for step := transpose.C; step <= transpose.B; step++ {
				p := transpose.Pitch{Step: step, Alter: transpose.Semitones(transpose.SignatureAlter(fifths, step)), Octave: 4}
				got := by.Apply(p)
				require.Equal(t, transpose.Semitones(transpose.SignatureAlter(moved, got.Step)), got.Alter,
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
		assert.Equal(t, row.twin, transpose.Twin(row.fifths), row.why)
	}
	for step := transpose.C; step <= transpose.B; step++ {
		for fifths := 1; fifths <= 9; fifths++ {
			a := transpose.Pitch{Step: step, Alter: transpose.Semitones(transpose.SignatureAlter(fifths, step)), Octave: 4}
			b := transpose.Interval{Diatonic: 1}.Apply(a)
			assert.Equal(t, transpose.Semitones(transpose.SignatureAlter(transpose.Twin(fifths), b.Step)), b.Alter,
				"a tone of %d fifths, taken by its upper neighbour, belongs to the twin", fifths)
		}
	}
}
