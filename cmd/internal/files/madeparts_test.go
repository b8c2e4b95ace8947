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
