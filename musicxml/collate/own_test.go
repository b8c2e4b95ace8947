package collate_test

import (
	"fmt"
	"path/filepath"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/collate"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
	"deskpart/transpose"
)

func readScore(t testing.TB, path string) *musicxml.Score {
	t.Helper()
	score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
	require.NoError(t, err)
	return score
}

func collator(t testing.TB, score *musicxml.Score) *collate.Score {
	t.Helper()
	s, err := collate.ReadScore(score, instrumentstest.Load(t), parts.Auto, nil)
	require.NoError(t, err)
	return s
}

// partFile is a part file as extract writes it.
type partFile struct {
	name string
	doc  *etree.Document
}

// extract makes the part files of a score.
func extract(t testing.TB, score *musicxml.Score, o parts.Options) []partFile {
	t.Helper()
	files, err := tryExtract(t, score, o)
	require.NoError(t, err)
	return files
}

func tryExtract(t testing.TB, score *musicxml.Score, o parts.Options) ([]partFile, error) {
	t.Helper()
	surveyed, err := parts.Survey(score, instrumentstest.Load(t), o)
	if err != nil {
		return nil, err
	}
	job, err := surveyed.Assign()
	require.NoError(t, err)
	var files []partFile
	for i, a := range job.Assignments() {
		part, err := job.Make(i)
		if err != nil {
			return nil, err
		}
		if part.Document != nil {
			files = append(files, partFile{fmt.Sprintf("%02d %s.musicxml", a.Number, a.Label), part.Document})
		}
	}
	return files, nil
}

// readFiles reads part files as a user's would be read.
func readFiles(t testing.TB, files ...partFile) []*collate.Part {
	t.Helper()
	var all []*collate.Part
	for _, f := range files {
		data := musicxml.Append(nil, f.doc, musicxml.WriteOptions{})
		score, err := musicxml.Read(data, musicxml.ReadOptions{Name: f.name})
		require.NoError(t, err)
		all = append(all, read(t, f.name, score)...)
	}
	return all
}

func read(t testing.TB, name string, score *musicxml.Score) []*collate.Part {
	t.Helper()
	given, err := collate.ReadFile(name, "", score, instrumentstest.Load(t), new(parts.Workspace))
	require.NoError(t, err)
	return given
}

// lines writes results as the tests compare them.
func lines(results []collate.Result) []string {
	list := []string{}
	for _, r := range results {
		for _, d := range r.Differences {
			list = append(list, fmt.Sprintf("%s: bar %s beat %s %s: %s", r.Part, d.Measure, d.Beat, d.Kind, d.Text))
		}
	}
	return list
}

// TestOwnPartsAgree: the parts that the copyist makes agree with their score,
// whatever the settings.
func TestOwnPartsAgree(t *testing.T) {
	musicxmltest.EachFile(t, append(musicxmltest.SharedSpread(t, "scores/*/*.mxl"), examples(t)...), func(t *testing.T, path string) {
		score := readScore(t, path)
		s := collator(t, score)
		for name, o := range ownSettings() {
			files := extract(t, score, o)
			results, err := s.Collate(readFiles(t, files...), collate.Options{Complete: true}, nil)
			require.NoError(t, err)
			assert.Empty(t, lines(results), name)
		}
	})
}

// TestOwnPartsOfTheTestSuiteAgree: the same for the files of the test suite that
// parts can be made of, each of which has one feature of the standard.
func TestOwnPartsOfTheTestSuiteAgree(t *testing.T) {
	compared := 0
	for _, path := range musicxmltest.SharedFiles(t, "testsuite/xmlFiles/*.*") {
		score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
		if err != nil {
			continue
		}
		files, err := tryExtract(t, score, parts.DefaultOptions())
		if err != nil {
			continue
		}
		compared++
		results, err := collator(t, score).Collate(readFiles(t, files...), collate.Options{Complete: true}, nil)
		require.NoError(t, err)
		assert.Empty(t, lines(results), filepath.Base(path))
	}
	assert.Greater(t, compared, 100, "nearly all files")
}

func examples(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(musicxmltest.ProjectRoot(t), "examples", "*.musicxml"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	return files
}

// ownSettings are settings of the copyist under which parts look different and
// sound the same.
func ownSettings() map[string]parts.Options {
	all := map[string]parts.Options{}
	with := func(name string, change func(*parts.Options)) {
		o := parts.DefaultOptions()
		change(&o)
		all[name] = o
	}
	with("usual", func(*parts.Options) {})
	with("players, readable spelling, German labels", func(o *parts.Options) {
		o.Players, o.Spelling, o.Language = true, transpose.Readable, "de"
	})
	with("few sharps and flats, some without signature, every bar of rest, cues, French labels", func(o *parts.Options) {
		o.MaxSignature, o.RestBars, o.Cues, o.Language = 3, 0, 4, "fr"
		o.WithoutSignature = []string{"horn", "trumpet", "timpani"}
	})
	return all
}
