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

// TestWhatIsFound: parts that an earlier run made are no scores, but who holds parts against
// a score asks for them. A bag (RFC 8493) is a way of packing; that its payload lies in
// "data" is no part of the scores' names. A folder of that name is one like any other elsewhere.
func TestWhatIsFound(t *testing.T) {
	root := t.TempDir()
	for _, name := range []string{"shelf/score.musicxml", "shelf/made/01 Flute.musicxml", "shelf/made/manifest.json",
		"bags/bag/bagit.txt", "bags/bag/data/haydn/1.mxl", "bags/bag/data/tune.xml", "bags/plain/data/tune.xml"} {
		at := filepath.Join(root, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(at), 0o777))
		require.NoError(t, os.WriteFile(at, []byte(`{"tool":"deskpart"}`), 0o666))
	}
	for _, row := range []struct {
		start string
		made  bool
		want  []string
	}{
		{"shelf", false, []string{"score.musicxml"}},
		{"shelf", true, []string{"made/01 Flute.musicxml", "score.musicxml"}},
		{"shelf/made", false, []string{"01 Flute.musicxml"}},
		{"bags/bag", false, []string{"haydn/1.mxl", "tune.xml"}},
		{"bags/bag/data", false, []string{"haydn/1.mxl", "tune.xml"}},
		{"bags/plain", false, []string{"data/tune.xml"}},
		{"bags", false, []string{"bag/haydn/1.mxl", "bag/tune.xml", "plain/data/tune.xml"}},
	} {
		inputs, problems, err := files.Search{Paths: []string{filepath.Join(root, row.start)}, MadeParts: row.made}.Find(context.Background())
		require.NoError(t, err)
		assert.Empty(t, problems)
		var keys []string
		for _, in := range inputs {
			keys = append(keys, in.Key)
		}
		assert.Equal(t, row.want, keys, row.start)
	}
}
