package instruments_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
)

// TestReaders: who reads what, and the notes that all of them have, worked out by hand
// from ranges.csv.
func TestReaders(t *testing.T) {
	c := instrumentstest.Load(t)
	for _, test := range []struct{ words, name, writtenC, low, high, why string }{
		{"C treble", "C treble", "C4", "B3", "A6", "flute from B3, oboe to A6"},
		{"B♭ treble", "Bb treble", "Bb3", "Bb3", "E6", "saxophone from B flat 3, cornet to E6"},
		{"in B-flat", "Bb treble", "Bb3", "Bb3", "E6", "a key alone: the first reader in it"},
		{"Eb", "Eb treble", "Eb3", "Bb3", "E6", "alto saxophone from B flat 3, tenor horn to E6"},
		{"f treble", "F treble", "F3", "B3", "C6", "English horn from B3, horn to C6"},
		{"C bass clef", "C bass", "C4", "E2", "D5", "trombone from E2, euphonium to D5"},
		{"alto", "C alto", "C4", "C3", "A6", "a clef alone: in C"},
		{"bass in Bb", "Bb bass", "Bb3", "", "", "in either order"},
	} {
		r, err := c.FindReader(test.words)
		require.NoError(t, err, test.words)
		assert.Equal(t, test.name, r.Name, test.words)
		in := r.Notation()
		assert.Equal(t, test.writtenC, in.WrittenC().String(), test.words)
		if rng, ok := in.Range(instruments.Professional); assert.True(t, ok) && test.low != "" {
			assert.Equal(t, test.low+" "+test.high, rng.Written.Low.String()+" "+rng.Written.High.String(), test.why)
		}
	}
	readers, err := c.Readers()
	require.NoError(t, err)
	for _, r := range readers {
		for _, level := range instruments.Levels() {
			rng, ok := r.Notation().Range(level)
			require.True(t, ok, r.Name)
			w := rng.Written
			assert.Greater(t, w.ComfortableHigh.NoteNumber()-w.ComfortableLow.NoteNumber(), 10, "%s, %s", r.Name, level)
			assert.True(t, w.Contains(w.ComfortableLow.NoteNumber()) && w.Contains(w.ComfortableHigh.NoteNumber()), "%s, %s", r.Name, level)
		}
	}
}

func TestUnknownReader(t *testing.T) {
	c := instrumentstest.Load(t)
	for words, want := range map[string]string{
		"Bb trebel": "did you mean Bb treble?",
		"D treble":  `no reader is called "D treble"`,
		"":          "there are C treble",
		"🎺":         "there are C treble",
	} {
		_, err := c.FindReader(words)
		assert.ErrorContains(t, err, want, words)
	}
}

func TestSubstitutes(t *testing.T) {
	c := instrumentstest.Load(t)
	s, err := c.Substitutes()
	require.NoError(t, err)
	for id, want := range map[string]string{
		"horn-f": "horn-eflat", "trombone": "trombone-bflat-treble", "euphonium": "euphonium-bflat-treble",
		"tuba": "brass-band-bass-eflat", "oboe": "clarinet-bflat", "viola": "violin",
	} {
		found := s.For(c.ByID(id))
		require.NotEmpty(t, found, id)
		assert.Equal(t, want, found[0].ID, id)
	}
	assert.Empty(t, s.For(nil))

	own, err := c.ReadSubstitutes(strings.NewReader("Instrument;Substitute\nHorn in F;Tenor horn\n;\nviola;violin\n"))
	require.NoError(t, err)
	assert.Equal(t, "tenor-horn-eflat", own.For(c.ByID("horn-f"))[0].ID)
	assert.Len(t, own.For(c.ByID("viola")), 1)
	for table, want := range map[string]string{
		"":                                   "has no columns",
		"instrument,for\n":                   "has no columns",
		"instrument,substitute\noboe,oboe\n": "stands in for itself",
		"instrument,substitute\noboe,clarinett\nhron,viola\n": `line 3: no instrument is known by "hron"; did you mean horn`,
	} {
		_, err := c.ReadSubstitutes(strings.NewReader(table))
		assert.ErrorContains(t, err, want, table)
	}
}
