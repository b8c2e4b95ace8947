package exercise_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/explain"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml/musicxmltest"
)

func sheet(t *testing.T, s exercise.Settings) exercise.Sheet {
	t.Helper()
	c := instrumentstest.Load(t)
	if s.Versions == 0 {
		s.Versions = 1
	}
	sheets, err := exercise.Make(c, s)
	require.NoError(t, err)
	return sheets[0]
}

// TestFilesValidate holds questions and answers of all levels against the W3C
// MusicXML 4.0 schema.
func TestFilesValidate(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	var files []string
	write := func(name string, data []byte, err error) {
		require.NoError(t, err)
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, data, 0o666))
		files = append(files, path)
	}
	for level := 1; level <= exercise.Levels; level++ {
		for _, unsigned := range []bool{false, true} {
			s := sheet(t, exercise.Settings{From: exercise.Both, Count: 6, Seed: 21, Level: level, WithoutSignature: unsigned})
			for _, e := range s.Exercises {
				name := fmt.Sprintf("%d-%t-%d", level, unsigned, e.Number)
				question, err := e.Question(s)
				write("exercise-"+name+".musicxml", question, err)
				answer, err := e.Key(s)
				write("answer-"+name+".musicxml", answer, err)
			}
		}
	}
	out, err := musicxmltest.Validate(t, files...)
	assert.NoError(t, err, out)
}

// TestPagesAreStable: the same settings give the same bytes, and the sheet to hand
// out does not hold the answers.
func TestPagesAreStable(t *testing.T) {
	t.Parallel()
	settings := exercise.Settings{From: explain.Sounding, Count: 4, Seed: 9, Level: 3}
	a, b := sheet(t, settings), sheet(t, settings)
	for _, o := range []exercise.PageOptions{{}, {Large: true}} {
		first, err := a.Questions(o)
		require.NoError(t, err)
		second, err := b.Questions(o)
		require.NoError(t, err)
		assert.Equal(t, string(first), string(second))
		assert.Contains(t, string(first), a.Code())
		assert.Contains(t, string(first), "room for a key signature")
		answers, err := a.Answers(o)
		require.NoError(t, err)
		assert.Contains(t, string(answers), a.Code())
		assert.Greater(t, strings.Count(string(answers), "#dp-head"), strings.Count(string(first), "#dp-head"), "answers have notes on both staves")
		assert.Equal(t, strings.Count(string(first), "<section class=\"exercise\""), 4)
	}
}

// TestLinesLeaveRoom: no line of a sheet has more notes than a hand can write on
// it, and lines of one exercise are about equally full.
func TestLinesLeaveRoom(t *testing.T) {
	t.Parallel()
	s := sheet(t, exercise.Settings{From: explain.Sounding, Count: 8, Seed: 4, Level: 4})
	page, err := s.Questions(exercise.PageOptions{})
	require.NoError(t, err)
	for _, svg := range strings.Split(string(page), "<svg class=\"music\"")[1:] {
		heads := strings.Count(svg, "#dp-head")
		assert.LessOrEqual(t, heads, 26, "notes on a line")
	}
}

// TestHints: what a question tells of the move is what its level shows
// (trade/teaching.md, section 2).
func TestHints(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	tests := []struct {
		level    int
		says     string
		saysNot  string
		whatItIs string
	}{
		{1, "a major second lower than written", "-", "interval and direction"},
		{3, "sounds lower than written", "major second", "direction only"},
		{4, "clarinet in B♭", "lower than written", "neither"},
	}
	for _, test := range tests {
		s := sheet(t, exercise.Settings{Instrument: c.ByID("clarinet-bflat"), From: explain.Sounding, Count: 1, Seed: 2, Level: test.level})
		page, err := s.Questions(exercise.PageOptions{})
		require.NoError(t, err)
		body := string(page)[strings.Index(string(page), "<main>"):]
		assert.Contains(t, body, test.says, test.whatItIs)
		if test.saysNot != "-" {
			assert.NotContains(t, body, test.saysNot, test.whatItIs)
		}
	}
}

func TestSettingsAreChecked(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	good := exercise.Settings{From: explain.Sounding, Count: 1, Level: 1, Versions: 1}
	for name, change := range map[string]func(*exercise.Settings){
		"no level":          func(s *exercise.Settings) { s.Level = 0 },
		"no exercises":      func(s *exercise.Settings) { s.Count = 0 },
		"too many":          func(s *exercise.Settings) { s.Count = exercise.MaxCount + 1 },
		"no versions":       func(s *exercise.Settings) { s.Versions = 0 },
		"too many versions": func(s *exercise.Settings) { s.Versions = exercise.MaxVersions + 1 },
	} {
		s := good
		change(&s)
		_, err := exercise.Make(c, s)
		assert.Error(t, err, name)
	}
}
