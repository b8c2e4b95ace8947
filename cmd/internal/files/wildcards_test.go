package files

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
)

// What a pattern stands for, in the order of the names. The names are chosen so that each
// rule has one that would be taken without it.
func TestWildcards(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	for _, name := range []string{"b.mxl", "A.MXL", "c.xml", ".hidden.mxl", "trio[1].mxl", "trio1.mxl", "sub/b.mxl", "sub2/B.mxl", "x[y]/z.mxl"} {
		at := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(at), 0o777))
		require.NoError(t, os.WriteFile(at, nil, 0o666))
	}
	for pattern, want := range map[string][]string{
		"*.mxl":        {"A.MXL", "b.mxl", "trio1.mxl", "trio[1].mxl"},
		"?.m*":         {"A.MXL", "b.mxl"},
		"[ab].mxl":     {"A.MXL", "b.mxl"},
		".*.mxl":       {".hidden.mxl"},
		"trio[1].mxl":  {"trio[1].mxl"}, // the very name goes first
		"sub*/b.mxl":   {"sub/b.mxl", "sub2/B.mxl"},
		"x[y]/*":       {"x[y]/z.mxl"},
		"s*b":          {"sub"},
		"c.xml":        {"c.xml"},
		"absent.xml":   {"absent.xml"}, // no wildcard: whoever opens it says what is wrong
		"*.pdf":        nil,
		"absent/*.mxl": nil,
		"[a.mxl":       nil,
	} {
		var found []string
		for _, at := range matches(filepath.Join(dir, pattern)) {
			below, err := filepath.Rel(dir, at)
			require.NoError(t, err)
			found = append(found, filepath.ToSlash(below))
		}
		assert.Equal(t, want, found, pattern)
	}
}

// A search puts names in the place of wildcards where the shell does not, never in a list,
// and says in a line that there are none.
func TestSearchWithWildcards(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	for _, name := range []string{"b.mxl", "a.mxl"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("x"), 0o666))
	}
	list := filepath.Join(dir, "list.txt")
	require.NoError(t, os.WriteFile(list, []byte(filepath.Join(dir, "*.mxl")), 0o666))

	inputs, problems, err := Search{Paths: []string{filepath.Join(dir, "*.mxl")}, Wildcards: true}.Find(context.Background())
	require.NoError(t, err)
	assert.Empty(t, problems)
	require.Len(t, inputs, 2)
	assert.Equal(t, []string{"a.mxl", "b.mxl"}, []string{inputs[0].Rel, inputs[1].Rel})

	_, _, err = Search{Paths: []string{filepath.Join(dir, "*.pdf")}, Wildcards: true}.Find(context.Background())
	require.EqualError(t, err, filepath.Join(dir, "*.pdf")+": no file or folder has such a name; check the name")
	assert.EqualValues(t, "unreadable", musicxml.ErrorCode(err))

	inputs, problems, err = Search{FilesFrom: list, Wildcards: true}.Find(context.Background())
	require.NoError(t, err)
	assert.Empty(t, inputs)
	assert.Len(t, problems, 1, "a list holds names and no patterns")
}
