package marking_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/marking"
	"deskpart/cmd/internal/texts/textstest"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// TestAnswersFindTheirKey: an answer is marked by the exercise that its file or
// its name says, or else by the one it fits.
func TestAnswersFindTheirKey(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	sheets, err := exercise.Make(c, exercise.Settings{Instrument: c.ByID("horn-f"), From: explain.Sounding, Count: 12, Seed: 3, Level: 3, Versions: 2})
	require.NoError(t, err)
	var keys []*marking.Key
	for _, s := range sheets {
		for _, e := range s.Exercises {
			data, err := e.Key(s)
			require.NoError(t, err)
			k := keyOf(t, data, nil)
			keys = append(keys, k)
		}
	}
	plain := func(part int) []byte { // as another program saves it: without fields
		data, err := explain.Sheet{Title: "My answer", Staves: []explain.SheetStaff{{Name: "Horn", Part: sheets[0].Exercises[part-1].Answer}}}.Bytes()
		require.NoError(t, err)
		return data
	}
	own, err := sheets[1].Exercises[3].Key(sheets[1])
	require.NoError(t, err)
	tests := []struct {
		name string
		data []byte
		want int
		why  string
	}{
		{"exercise-03.musicxml", plain(3), 3, "the name that the file came with"},
		{"class/Anna 7.mxl", plain(7), 7, "a learner's name and a number"},
		{"Nr. 12.xml", plain(12), 12, "two digits"},
		{"anna.musicxml", plain(5), 5, "no number: the exercise that it fits"},
		{"whatever.musicxml", own, 4, "the fields in the file, of the other version"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			s, err := musicxml.Read(test.data, musicxml.ReadOptions{Name: test.name})
			require.NoError(t, err)
			results, err := marking.Marker{Keys: keys, Texts: textstest.In(t, pitch.English)}.Mark(s)
			require.NoError(t, err)
			require.Len(t, results, 1)
			r := results[0]
			assert.Equal(t, test.want, r.Exercise, test.why)
			assert.Empty(t, r.Mistakes, test.why)
			assert.Equal(t, test.name, r.File)
		})
	}
}
