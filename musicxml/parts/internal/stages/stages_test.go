package stages

import (
	"errors"
	"runtime"
	"slices"
	"strings"
	"testing"
	"unsafe"
	"weak"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/survey"
)

func scoreOf(t *testing.T, music ...string) *Score {
	t.Helper()
	entries := make([]shorthand.Entry, len(music))
	for i := range music {
		entries[i].Music = music[i]
	}
	score, err := musicxml.Read(shorthand.Score(t, entries...), musicxml.ReadOptions{})
	require.NoError(t, err)
	return &Score{Surveyed: survey.NewScore(score, nil, survey.Auto)}
}

// What goes wrong is said in a sentence, "cannot turn the stems: why": every stage is called by
// what it does. Who looks on is told each of them once it is done.
func TestStagesAreSaidInASentence(t *testing.T) {
	t.Parallel()
	verbs := strings.Fields("leave take write set find put add name look see choose turn settle hold list mark hide draw")
	for _, s := range stages {
		verb, rest, _ := strings.Cut(s.name, " ")
		assert.Contains(t, verbs, verb)
		assert.NotEmpty(t, rest)
	}
	s := scoreOf(t, "C5:w")
	var w Workspace
	var told []string
	err := s.make(w.Draft(s.Surveyed, assign.Assignment{}), &w, []stage{
		{"do this", func(m *maker) error { m.Rewritten(); return nil }},
		{"do that", func(*maker) error { return errors.New("the ink is dry") }},
		{"go on", func(*maker) error { return nil }},
	}, func(stage string) { told = append(told, stage) })
	require.EqualError(t, err, "cannot do that: the ink is dry")
	assert.Equal(t, []string{"do this"}, told)
	err = s.make(w.Draft(s.Surveyed, assign.Assignment{}), &w, []stage{{"undo it", func(m *maker) error {
		m.Part.FindElement(".//divisions").SetText("x")
		m.Rewritten()
		return nil
	}}}, nil)
	assert.ErrorContains(t, err, "cannot undo it: ", "what a stage leaves behind must be music")
}

// A part that loses music on the way says so, behind what was said when it was assigned.
func TestLostOnTheWay(t *testing.T) {
	t.Parallel()
	s := scoreOf(t, "C5:w | D5:w")
	var a assign.Assignment
	a.Warnings = []musicxml.Warning{{Code: notice.PauseElsewhere}}
	a.Player = 1
	var w Workspace
	d := w.Draft(s.Surveyed, a)
	require.NoError(t, s.make(d, &w, []stage{{"lose a bar", func(m *maker) error {
		m.Part.FindElement("measure[2]").RemoveChild(m.Part.FindElement("measure[2]/note"))
		m.Rewritten()
		return nil
	}}}, nil))
	assert.Equal(t, a.Warnings, d.Report.Warnings)
	assert.Equal(t, 2, d.Report.Measures)
	gaps := d.Report.Heard.Score.Missing(d.Report.Heard.Part)
	require.Len(t, gaps, 1)
	assert.Equal(t, "2", gaps[0].Measure)
}

// A workspace that goes on to another score keeps nothing of the last one alive, and has room for
// the largest part of that one; one that goes on with a score begins its memory anew.
func TestWorkspaceForgets(t *testing.T) {
	t.Parallel()
	var w Workspace
	text := readIn(t, &w, `"dolcissimo" C5:w | D5:w`)
	other := scoreOf(t, "C5 D5 E5 F5", "C5:w").Surveyed.Music
	_, err := w.ReadPart(other, 1)
	require.NoError(t, err)
	for range 3 {
		runtime.GC()
	}
	assert.Nil(t, text.Value(), "the text of the first score")
	size := max(other.Parts[0].Size(), other.Parts[1].Size())
	w.Text(func(room []byte) []byte {
		assert.Empty(t, room)
		assert.GreaterOrEqual(t, cap(room), size)
		assert.Less(t, cap(room), 2*size)
		return append(room, "abc"...)
	})
	assert.Equal(t, "abcd", string(w.Text(func(room []byte) []byte { return append(slices.Clip(room), "abcd"...) })))
	first, err := w.ReadPart(other, 0)
	require.NoError(t, err)
	again, err := w.ReadPart(other, 0)
	require.NoError(t, err)
	assert.Same(t, first, again, "the same memory")
	runtime.KeepAlive(&w)
}

// readIn lays a part out in a workspace, reads its staves, and points at a piece of its text.
//
//go:noinline
func readIn(t *testing.T, w *Workspace, music string) weak.Pointer[byte] {
	t.Helper()
	s := scoreOf(t, music)
	d := w.Draft(s.Surveyed, assign.Assignment{})
	require.NoError(t, d.Read())
	require.NoError(t, w.Page.Read(d))
	return weak.Make(unsafe.StringData(musicxml.Text(d.Part.FindElement(".//words"))))
}
