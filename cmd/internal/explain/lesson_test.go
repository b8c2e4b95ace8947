package explain_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/texts/textstest"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

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
	task, err := explain.ParseTask(instrumentstest.Load(t), "alto saxophone", explain.Sounding)
	require.NoError(t, err)
	key := pitch.Key{Fifths: -2, Mode: pitch.Major}
	part, err := explain.FromPitches(pitches(t, "Db4", "Ab3"), &key, explain.Bass).Part()
	require.NoError(t, err)
	e, err := explain.Explain(task, explain.Passage{Part: part}, textstest.In(t, pitch.English))
	require.NoError(t, err)
	var said []string
	for _, s := range e.Steps {
		if s.About == explain.AboutAccidental {
			said = append(said, s.Text)
		}
	}
	require.Len(t, said, 2)
	assert.Contains(t, said[0], "the sign stays a flat")
	assert.Contains(t, said[1], "The kind changes, from a flat to a natural")
}

// TestEveryInstrumentBothWays explains one melody for the whole catalogue, there
// and back: what comes back is what went.
func TestEveryInstrumentBothWays(t *testing.T) {
	t.Parallel()
	key := pitch.Key{Fifths: 1, Mode: pitch.Major}
	given := pitches(t, "G4", "F#4", "C5", "C#5", "Bb4", "G4")
	for _, i := range instrumentstest.Load(t).All() {
		if i.Flags.Unpitched {
			continue
		}
		there := explain.Task{Instrument: i, From: explain.Sounding}
		part, err := explain.FromPitches(given, &key, explain.Treble).Part()
		require.NoError(t, err)
		e, err := explain.Explain(there, explain.Passage{Part: part}, textstest.In(t, pitch.English))
		require.NoError(t, err, i.ID)
		back := explain.Task{Instrument: i, From: explain.Written}
		again, err := explain.Explain(back, explain.Passage{Part: e.Solution.Answer}, textstest.In(t, pitch.English))
		require.NoError(t, err, i.ID)
		assert.Equal(t, e.Notes, again.Answer, i.ID)
		assert.Equal(t, *e.Key, *again.AnswerKey, i.ID)
		_, err = e.Page()
		require.NoError(t, err, i.ID)
	}
}

// TestEveryNeededAccidentalIsPrinted: a row of notes stands in bars, and read off the
// page (signature, signs, barlines) each is what was given: G natural before G sharp
// in A major needs both signs.
func TestEveryNeededAccidentalIsPrinted(t *testing.T) {
	t.Parallel()
	key := pitch.Key{Fifths: 3, Mode: pitch.Major}
	given := pitches(t, "G4", "G#4", "G4", "G#5", "G#4", "Bb4", "B4", "A4", "C#5")
	part, err := explain.FromPitches(given, &key, explain.Treble).Part()
	require.NoError(t, err)
	var printed []string
	for _, n := range part.FindElements("measure/note") {
		printed = append(printed, musicxml.ChildText(n, "accidental"))
	}
	assert.Equal(t, []string{"natural", "sharp", "natural", "", "", "flat", "natural", "", ""}, printed)
	assert.Len(t, part.SelectElements("measure"), 3)
	assert.Empty(t, part.FindElements("measure/barline[bar-style='none']"), "the barlines are seen")
}

// TestClefIsNoInstrument: an alto clef is no alto voice.
func TestClefIsNoInstrument(t *testing.T) {
	t.Parallel()
	for _, words := range []string{"alto clef", "tenor clef", "Altschlüssel", "clé d'ut", "chiave di basso", "clave de sol"} {
		_, err := explain.ParseTask(instrumentstest.Load(t), words, explain.Sounding)
		require.Error(t, err, words)
		assert.Contains(t, err.Error(), "is a clef and no instrument")
	}
}

// TestExplainsInEveryLanguage: an explanation is whole in every language, with the
// notes called as they are there.
func TestExplainsInEveryLanguage(t *testing.T) {
	t.Parallel()
	task, err := explain.ParseTask(instrumentstest.Load(t), "clarinet in A", explain.Sounding)
	require.NoError(t, err)
	key := pitch.Key{Fifths: -1, Mode: pitch.Major}
	part, err := explain.FromPitches(pitches(t, "Bb4", "B4", "F#4"), &key, explain.Treble).Part()
	require.NoError(t, err)
	for language, says := range map[pitch.Language][]string{
		pitch.English: {"a minor third up", "A♭ major", "B flat", "Line of fifths"},
		pitch.German:  {"eine kleine Terz nach oben", "As-Dur", "B4", "H4", "Fis", "Quintenreihe"},
		pitch.French:  {"une tierce mineure vers le haut", "la bémol majeur", "si♭4", "fa dièse", "Ligne des quintes"},
		pitch.Italian: {"una terza minore verso l'alto", "la bemolle maggiore", "si♭4", "fa diesis", "Linea delle quinte"},
		pitch.Spanish: {"una tercera menor hacia arriba", "la bemol mayor", "si♭4", "fa sostenido", "Línea de quintas"},
	} {
		said := textstest.In(t, language)
		e, err := explain.Explain(task, explain.Passage{Part: part}, said)
		require.NoError(t, err)
		var out strings.Builder
		require.NoError(t, e.WriteText(&out))
		text := strings.Join(strings.Fields(out.String()), " ")
		if language == pitch.English {
			says = []string{"a minor third up", "A♭ major", "F sharp", "Line of fifths"}
		}
		for _, phrase := range says {
			assert.Contains(t, text, phrase, language)
		}
		assert.NotContains(t, text, "[explain", "no text is missing")
		assert.NotContains(t, text, "<nil>")
	}
}
