package main

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/report"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
)

// command runs the program and returns what it printed and its exit status.
func command(t *testing.T, args ...string) (stdout, stderr string, code int) {
	t.Helper()
	var out, errs bytes.Buffer
	code = execute(context.Background(), args, &report.Streams{In: strings.NewReader(""), Out: &out, Err: &errs})
	return out.String(), errs.String(), code
}

// TestConvertThereAndBack takes every written score to concert pitch and back
// and compares the documents byte for byte, white space between elements apart.
// Nothing but the sources says what must come out. The concert scores are valid, and
// spelled as the shared ones, which were made from the same editions by plain interval
// arithmetic.
func TestConvertThereAndBack(t *testing.T) {
	concert, written := t.TempDir(), t.TempDir()
	var concerts, sources []string
	for _, folder := range []string{"written", "quartets", "songs", "leadsheets"} {
		paths := musicxmltest.SharedSpread(t, "scores/"+folder+"/*.mxl")
		there, back := filepath.Join(concert, folder), filepath.Join(written, folder)
		_, errs, code := command(t, slices.Concat([]string{"convert"}, paths, []string{"--to", "concert", "--out", there})...)
		require.Equal(t, exitDone, code, errs)
		_, errs, code = command(t, "convert", there, "--to", "written", "--out", back)
		require.Equal(t, exitDone, code, errs)
		for _, path := range paths {
			name := filepath.Base(path)
			sameScore(t, name, plainText(t, path), plainText(t, filepath.Join(back, name)))
			concerts, sources = append(concerts, filepath.Join(there, name)), append(sources, path)
		}
	}
	for i, valid := range validates(t, concerts...) {
		if !valid {
			assert.False(t, validates(t, sources[i])[0], "%s: the concert score is valid where the source is", sources[i])
		}
	}
	for _, path := range musicxmltest.SharedSpread(t, "scores/concert/*.mxl") {
		name := strings.TrimSuffix(filepath.Base(path), ".concert.mxl")
		made := filepath.Join(concert, "written", name+".mxl")
		if !slices.Contains(concerts, made) {
			continue // the larger of the two is not of the spread
		}
		score, err := musicxml.ReadFile(made, musicxml.ReadOptions{})
		require.NoError(t, err)
		expected, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
		require.NoError(t, err)
		require.NotNil(t, score.Header.FindElement("//defaults/concert-score"), name)
		for i := range expected.Parts {
			assert.Equal(t, pitches(t, expected, i), pitches(t, score, i), "%s, part %s", name, expected.Parts[i].ID)
		}
	}
}

// validates reports which scores the schema takes.
func validates(t *testing.T, paths ...string) []bool {
	t.Helper()
	dir := t.TempDir()
	var files []string
	for i, path := range paths {
		files = append(files, filepath.Join(dir, fmt.Sprintf("%d.musicxml", i)))
		require.NoError(t, os.WriteFile(files[i], musicxmltest.ScoreText(t, path), 0o666))
	}
	said, _ := musicxmltest.Validate(t, files...)
	valid := make([]bool, len(paths))
	for i, file := range files {
		valid[i] = strings.Contains(said, file+" validates")
	}
	return valid
}

// pitches lists the spelled pitches of a part with their bars.
func pitches(t *testing.T, score *musicxml.Score, i int) []string {
	t.Helper()
	part, err := score.ReadPart(i, nil)
	require.NoError(t, err)
	var list []string
	for _, pitch := range part.FindElements(".//pitch") {
		list = append(list, musicxml.ChildText(pitch, "step")+cmp.Or(musicxml.ChildText(pitch, "alter"), "0")+musicxml.ChildText(pitch, "octave"))
	}
	return list
}

// plainText is a score as a list of pieces: its header and each part, written
// without white space between elements.
func plainText(t *testing.T, path string) []string {
	t.Helper()
	score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
	require.NoError(t, err)
	texts := []string{plain(t, score.NewDocument())}
	for _, part := range shorthand.PartsOf(t, score) {
		texts = append(texts, plain(t, etree.NewDocumentWithRoot(part)))
	}
	return texts
}

func plain(t *testing.T, doc *etree.Document) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, musicxml.Write(&b, doc, musicxml.WriteOptions{}))
	return strings.ReplaceAll(b.String(), "><", ">\n<")
}

// sameScore reports the first line at which two scores differ, not the scores.
func sameScore(t *testing.T, name string, want, got []string) {
	t.Helper()
	if !assert.Len(t, got, len(want), name) {
		return
	}
	for i := range want {
		w, g := strings.Split(want[i], "\n"), strings.Split(got[i], "\n")
		for k := range w {
			if k >= len(g) || w[k] != g[k] {
				from := max(0, k-5)
				assert.Equal(t, w[from:min(k+5, len(w))], g[min(from, len(g)):min(k+5, len(g))], "%s, piece %d, line %d", name, i, k)
				break
			}
		}
	}
}
