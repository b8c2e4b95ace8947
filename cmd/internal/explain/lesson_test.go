package explain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/explain"
	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

func catalogue(t *testing.T) *instruments.Catalogue {
	t.Helper()
	c, err := instruments.Load()
	require.NoError(t, err)
	return c
}

func pitches(t *testing.T, texts ...string) []pitch.Pitch {
	t.Helper()
	var list []pitch.Pitch
	for _, text := range texts {
		p, err := pitch.Parse(text)
		require.NoError(t, err)
		list = append(list, p)
	}
	return list
}

func TestParseKey(t *testing.T) {
	t.Parallel()
	tests := []struct {
		text, name string
		fifths     int
		why        string
	}{
		{"-3", "Eb major or C minor", -3, "a signature alone has two keys"},
		{"Eb", "Eb major", -3, "a name alone is major"},
		{"F# minor", "F# minor", 3, "the relative of A major"},
		{"c# minor", "C# minor", 4, "a small letter is understood"},
		{"Gb major", "Gb major", -6, "the far end of the flats"},
		{"0", "C major or A minor", 0, "no signs"},
	}
	for _, test := range tests {
		t.Run(test.text, func(t *testing.T) {
			t.Parallel()
			k, err := explain.ParseKey(test.text)
			require.NoError(t, err)
			assert.Equal(t, test.fifths, k.Fifths, test.why)
			assert.Equal(t, test.name, k.String(), test.why)
		})
	}
	for _, text := range []string{"", "8", "-9", "H", "G# major", "D dorian"} {
		_, err := explain.ParseKey(text)
		assert.Error(t, err, text)
	}
}

func TestSignatureNotes(t *testing.T) {
	t.Parallel()
	// The order of sharps and flats is common knowledge.
	assert.Equal(t, "F# C# G# D# A# E# B#", explain.SignatureNotes(7))
	assert.Equal(t, "Bb Eb Ab Db Gb Cb Fb", explain.SignatureNotes(-7))
	assert.Equal(t, "", explain.SignatureNotes(0))
}

func TestParseInterval(t *testing.T) {
	t.Parallel()
	tests := []struct {
		text string
		want pitch.Interval
	}{
		{"minor third down", pitch.Interval{Diatonic: -2, Chromatic: -3}},
		{"perfect fourth up", pitch.Interval{Diatonic: 3, Chromatic: 5}},
		{"augmented unison up", pitch.Interval{Diatonic: 0, Chromatic: 1}},
		{"octave down", pitch.Interval{Diatonic: -7, Chromatic: -12}},
		{"major ninth down", pitch.Interval{Diatonic: -8, Chromatic: -14}},
		{"diminished fifth up", pitch.Interval{Diatonic: 4, Chromatic: 6}},
	}
	for _, test := range tests {
		got, err := explain.ParseInterval(test.text)
		require.NoError(t, err, test.text)
		assert.Equal(t, test.want, got, test.text)
	}
	for _, text := range []string{"perfect third up", "major fifth up", "minor third", "horn in F", "up"} {
		_, err := explain.ParseInterval(text)
		assert.Error(t, err, text)
	}
}

// TestKindChanges holds the words about accidentals against the published example
// in which the flat on D stays a flat and the flat on A becomes a natural
// (trade/worked-examples.csv, cnx-altosax).
func TestKindChanges(t *testing.T) {
	t.Parallel()
	task, err := explain.ParseTask(catalogue(t), "alto saxophone", explain.Sounding)
	require.NoError(t, err)
	key := explain.Key{Fifths: -2, Mode: explain.Major}
	part, err := explain.FromPitches(pitches(t, "Db4", "Ab3"), &key, explain.Bass).Part()
	require.NoError(t, err)
	e, err := explain.Explain(task, part)
	require.NoError(t, err)
	var said []string
	for _, s := range e.Steps {
		if s.About == explain.AboutAccidental {
			said = append(said, s.Text)
		}
	}
	require.Len(t, said, 2)
	assert.Contains(t, said[0], "the sign stays a flat")
	assert.Contains(t, said[1], "The kind changes, from flat to natural")
}

// TestEveryInstrumentBothWays explains one melody for the whole catalogue, there
// and back: what comes back is what went.
func TestEveryInstrumentBothWays(t *testing.T) {
	t.Parallel()
	key := explain.Key{Fifths: 1, Mode: explain.Major}
	given := pitches(t, "G4", "F#4", "C5", "C#5", "Bb4", "G4")
	for _, i := range catalogue(t).All() {
		if i.Flags.Unpitched {
			continue
		}
		there := explain.Task{Instrument: i, From: explain.Sounding}
		part, err := explain.FromPitches(given, &key, explain.Treble).Part()
		require.NoError(t, err)
		e, err := explain.Explain(there, part)
		require.NoError(t, err, i.ID)
		back := explain.Task{Instrument: i, From: explain.Written}
		again, err := explain.Explain(back, e.Solution.Answer)
		require.NoError(t, err, i.ID)
		assert.Equal(t, e.Notes, again.Answer, i.ID)
		assert.Equal(t, *e.Key, *again.AnswerKey, i.ID)
		_, err = e.Page()
		require.NoError(t, err, i.ID)
	}
}
