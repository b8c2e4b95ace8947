package marked_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/marking"
	"deskpart/cmd/internal/marking/class"
	"deskpart/cmd/internal/texts/textstest"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml/musicxmltest"
	"deskpart/transpose/pitch"
)

// TestWorkedAloud: behind a rule stands the first place where it was broken, worked. By
// hand: a horn in F reads a fifth above what sounds, so G3 is written D4 (G, A B C D; seven
// semitones) and three flats become two.
func TestWorkedAloud(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	said := textstest.In(t, pitch.English)
	sheets, err := exercise.Make(c, exercise.Settings{Instrument: c.ByID("horn-f"), From: explain.Sounding, Count: 10, Seed: 7, Level: 2, Versions: 1}) // examples/README.md
	require.NoError(t, err)
	m := marking.Marker{Texts: said}
	for _, e := range sheets[0].Exercises[:2] {
		data, err := e.Key(sheets[0])
		require.NoError(t, err)
		question, err := explain.Sheet{Title: "Q", Staves: []explain.SheetStaff{{Name: "Given", Part: e.Given}}}.Bytes()
		require.NoError(t, err)
		k, err := marking.NewKeys(parse(t, string(data)), parse(t, string(question)), c)
		require.NoError(t, err)
		m.Keys = append(m.Keys, k...)
	}
	for file, want := range map[string]string{
		"Ben 1.musicxml":   "Here, with G3: G up 4 letters: A B C D. G3 to D4 is 7 semitones, as wanted.",
		"Carla 1.musicxml": "Here: E♭ major or C minor, moved a perfect fifth up, becomes B♭ major or G minor: 2 flats (B♭ E♭).",
		"Carla 2.musicxml": "Here, with A3: A up 4 letters: B C D E. A3 to E4 is 7 semitones, as wanted.",
	} {
		data, err := os.ReadFile(filepath.Join(musicxmltest.ProjectRoot(t), "examples", "class-7b", file))
		require.NoError(t, err)
		results, err := m.Mark(parse(t, string(data)))
		require.NoError(t, err)
		page, err := pupilPage(said, class.Report{Class: class.New(results), Texts: said})
		require.NoError(t, err)
		has(t, string(page), want, file)
	}
}
