package transpose

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/transpose/pitch"
)

// TestNotesInTheTextOfAKind moves chord symbols whose kind prints the root, a major
// second up unless the row says otherwise. Expected by hand: letters and signs as the
// interval has them, in the text's own kind of signs.
func TestNotesInTheTextOfAKind(t *testing.T) {
	t.Parallel()
	tone, third := pitch.Interval{Diatonic: 1, Chromatic: 2}, pitch.Interval{Diatonic: -2, Chromatic: -3}
	for _, row := range []struct {
		why, text, root, bass string
		by                    pitch.Interval
		want                  string
		puzzled               bool
	}{
		{"the kind alone", "m7", "B", "", tone, "m7", false},
		{"the root before it", "Bm7", "B", "", tone, "C♯m7", false},
		{"minor", "Am", "A", "", tone, "Bm", false},
		{"a flat root", "Bb7", "Bb", "", tone, "C7", false},
		{"a sharp root", "F#m7b5", "F#", "", tone, "G#m7b5", false},
		{"signs of print", "E♭Δ", "Eb", "", tone, "FΔ", false},
		{"down a minor third", "G7", "G", "", third, "E7", false},
		{"down a minor third, to a sharp", "Bb7", "Bb", "", third, "G7", false},
		{"E goes to C sharp", "E°", "E", "", third, "C♯°", false},
		{"a flat that is the fifth's", "Bb5", "B", "", tone, "C♯b5", false},
		{"a flat that is the root's", "Bb5", "Bb", "", tone, "C5", false},
		{"signs of print, twice sharp", "F♯♯7", "F##", "", tone, "G♯♯7", false},
		{"the root's letter without its sign", "F7", "F#", "", tone, "F7", true},
		{"the root alone", "C", "C", "", tone, "D", false},
		{"a double sharp", "Fx7", "F##", "", tone, "G##7", false},
		{"a double flat", "Ebb7", "Ebb", "", tone, "Fb7", false},
		{"signs of print, twice", "E♭♭7", "Ebb", "", tone, "F♭7", false},
		{"a bass behind a stroke", "Am/G", "A", "G", tone, "Bm/A", false},
		{"a bass that the text alone has", "m7/G", "C", "", tone, "m7/A", false},
		{"a flat bass that the text alone has", "m7/B♭", "C", "", tone, "m7/C", false},
		{"a sharp one", "m7/F♯", "C", "", tone, "m7/G♯", false},
		{"a small one with two flats", "m7/ebb", "C", "", tone, "m7/fb", false},
		{"an added ninth is no bass", "6/9", "C", "", tone, "6/9", false},
		{"augmented begins with no note", "Aug", "C", "", tone, "Aug", false},
		{"nor does diminished", "Dim7", "C", "", tone, "Dim7", false},
		{"nor added", "Add9", "C", "", tone, "Add9", false},
		{"altered", "alt", "C", "", tone, "alt", false},
		{"another note than the root", "Em7", "A", "", tone, "Em7", true},
		{"a German B", "Hm7", "B", "", tone, "Hm7", true},
		{"a bass that is not the bass", "Am/G", "A", "E", tone, "Am/G", true},
		{"a German bass", "m7/H", "C", "", tone, "m7/H", true},
		{"no chord", "N.C.", "C", "", tone, "N.C.", false},
	} {
		t.Run(row.text+" "+row.why, func(t *testing.T) {
			t.Parallel()
			chord := movedChord{root: toneFor(t, row.root, row.by)}
			if row.bass != "" {
				chord.bass = toneFor(t, row.bass, row.by)
			}
			got, understood := chord.respellKind(row.text, row.by)
			assert.Equal(t, row.want, got)
			assert.Equal(t, row.puzzled, !understood)
		})
	}
}

func toneFor(t *testing.T, name string, by pitch.Interval) movedTone {
	t.Helper()
	p, err := pitch.ParseName(name)
	require.NoError(t, err)
	return movedTone{p, by.Apply(p), true}
}
