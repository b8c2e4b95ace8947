package files_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/files"
)

// TestFoldersOfMadeParts: parts that an earlier run made are no scores, but who
// holds parts against a score asks for them.
func TestFoldersOfMadeParts(t *testing.T) {
	root := t.TempDir()
	made := filepath.Join(root, "made")
	require.NoError(t, os.Mkdir(made, 0o777))
	for name, text := range map[string]string{"score.musicxml": "x", "made/01 Flute.musicxml": "x", "made/manifest.json": `{"tool":"deskpart"}`} {
		require.NoError(t, os.WriteFile(filepath.Join(root, name), []byte(text), 0o666))
	}
	for _, c := range []struct {
		name, why string
		search    files.Search
		want      []string
	}{
		{"scores", "the parts are passed over", files.Search{Paths: []string{root}}, []string{"score.musicxml"}},
		{"parts too", "they are asked for", files.Search{Paths: []string{root}, MadeParts: true}, []string{"made/01 Flute.musicxml", "score.musicxml"}},
		{"the folder itself", "it was given", files.Search{Paths: []string{made}}, []string{"01 Flute.musicxml"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			inputs, problems, err := c.search.Find(context.Background())
			require.NoError(t, err)
			assert.Empty(t, problems)
			var keys []string
			for _, in := range inputs {
				keys = append(keys, in.Key)
			}
			assert.Equal(t, c.want, keys, c.why)
		})
	}
}

// TestScoresOfABag: a bag (RFC 8493) is a way of packing; that its payload lies in "data" is
// no part of the scores' names. A folder of that name is one like any other elsewhere.
func TestScoresOfABag(t *testing.T) {
	root := t.TempDir()
	for _, name := range []string{"bag/bagit.txt", "bag/data/haydn/1.mxl", "bag/data/tune.xml", "plain/data/tune.xml"} {
		at := filepath.Join(root, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(at), 0o777))
		require.NoError(t, os.WriteFile(at, []byte("x"), 0o666))
	}
	for _, row := range []struct {
		start string
		want  []string
	}{
		{"bag", []string{"haydn/1.mxl", "tune.xml"}},
		{"bag/data", []string{"haydn/1.mxl", "tune.xml"}},
		{"plain", []string{"data/tune.xml"}},
		{".", []string{"bag/haydn/1.mxl", "bag/tune.xml", "plain/data/tune.xml"}},
	} {
		inputs, problems, err := files.Search{Paths: []string{filepath.Join(root, row.start)}}.Find(context.Background())
		require.NoError(t, err)
		assert.Empty(t, problems)
		var keys []string
		for _, in := range inputs {
			keys = append(keys, in.Key)
		}
		assert.Equal(t, row.want, keys, row.start)
	}
}
