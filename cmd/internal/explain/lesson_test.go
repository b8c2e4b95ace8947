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

// TestKindChanges holds the words about accidentals against the published example
// in which the flat on D stays a flat and the flat on A becomes a natural
// (trade/worked-examples.csv, cnx-altosax).
func TestKindChanges(t *testing.T) {
	t.Parallel()
	task, err := explain.ParseTask(catalogue(t), "alto saxophone", explain.Sounding)
	require.NoError(t, err)
	key := pitch.Key{Fifths: -2, Mode: pitch.Major}
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
	key := pitch.Key{Fifths: 1, Mode: pitch.Major}
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
