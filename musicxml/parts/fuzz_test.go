package parts_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/reading"
	"deskpart/transpose"
)

// fuzzLimits keep a fuzzed input from taking long.
var fuzzLimits = musicxml.Limits{InputBytes: 1 << 18, ExpandedBytes: 1 << 18, Entries: 20, Parts: 20, Depth: 40, EntityBytes: 1 << 10}

// FuzzExtract makes the parts of anything that reads as a score, under settings
// drawn from the input's first byte. Nothing panics, every part that is made can
// be written and read again, and what it sounds is what the score sounds. All parts
// are made in one workspace, which must not show.
func FuzzExtract(f *testing.F) {
	suite, err := filepath.Glob(filepath.Join(filepath.Dir(musicxmltest.ProjectRoot(f)), "shared/testsuite/xmlFiles/*"))
	require.NoError(f, err)
	own, err := filepath.Glob(filepath.Join(musicxmltest.ProjectRoot(f), "examples/*.musicxml"))
	require.NoError(f, err)
	require.NotEmpty(f, own)
	for i, path := range append(own, suite...) {
		data, err := os.ReadFile(path)
		require.NoError(f, err)
		f.Add(byte(i), data)
	}
	catalogue := instrumentstest.Load(f)
	f.Fuzz(func(t *testing.T, settings byte, data []byte) {
		score, err := musicxml.Read(data, musicxml.ReadOptions{Limits: fuzzLimits})
		if err != nil {
			return
		}
		o := fuzzedOptions(settings)
		surveyed, err := parts.Survey(score, catalogue, o)
		if err != nil {
			return
		}
		job, err := surveyed.Assign()
		require.NoError(t, err)
		var w parts.Workspace
		for i, a := range job.Assignments() {
			text, ok := madeText(t, job, i, &w)
			if !ok {
				continue
			}
			alone, _ := madeText(t, job, i, nil)
			require.Equal(t, string(alone), string(text))
			made, err := musicxml.Read(text, musicxml.ReadOptions{Limits: musicxml.Limits{InputBytes: 1 << 24}})
			require.NoError(t, err)
			require.Len(t, made.Parts, 1)
			if !o.Players {
				soundsAlike(t, score, a.Part, made)
			}
		}
	})
}

// madeText makes a part in a workspace, or without one, and writes it.
func madeText(t *testing.T, job *parts.Job, i int, w *parts.Workspace) ([]byte, bool) {
	t.Helper()
	sheet, err := job.MakeIn(w, i)
	if err != nil || sheet.Document == nil {
		return nil, false
	}
	return musicxml.Append(nil, sheet.Document, musicxml.NoteALine), true
}

func fuzzedOptions(b byte) parts.Options {
	o := parts.DefaultOptions()
	o.Players = b&1 != 0
	o.Cues = int(b >> 1 & 3)
	o.RestBars = int(b >> 3 & 3)
	if b&32 != 0 {
		o.Spelling = transpose.Readable
	}
	if b&64 != 0 {
		o.WithoutSignature = []string{"horn", "clarinet"}
	}
	if b&128 != 0 {
		o.Input = parts.Concert
	}
	return o
}

// soundsAlike compares a made part's sound with its source's, where the source
// can be read at all. Cue notes are silent.
func soundsAlike(t *testing.T, score *musicxml.Score, i int, made *musicxml.Score) {
	t.Helper()
	source, err := score.ReadPart(i, nil)
	require.NoError(t, err)
	want, err := reading.Read(source)
	if err != nil {
		return
	}
	part, err := made.ReadPart(0, nil)
	require.NoError(t, err)
	got, err := reading.Read(part)
	require.NoError(t, err)
	isCue := func(s reading.Sound) bool { return s.Cue }
	for _, d := range reading.Compare(slices.DeleteFunc(want.Sounding(), isCue), slices.DeleteFunc(got.Sounding(), isCue)) {
		require.Equal(t, reading.Spelled, d.Kind, d)
	}
}
