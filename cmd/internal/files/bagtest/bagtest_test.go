package bagtest_test

import (
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/files/bagtest"
)

// The checker finds what is wrong.
func TestBagFaults(t *testing.T) {
	sound := map[string]string{
		"bagit.txt":  "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n",
		"data/a b%c": "x",
		// printf x | sha256sum
		"manifest-sha256.txt": "2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881  data/a b%25c\n",
		"bag-info.txt":        "Payload-Oxum: 1.1\n",
	}
	for _, c := range []struct{ file, text, want string }{
		{"bag-info.txt", sound["bag-info.txt"], ""},
		{"bagit.txt", "BagIt-Version: 2.0\n", "bagit.txt says"},
		{"data/b", "y", "lists 1 files of 2"},
		{"data/a b%c", "y", "the sum of data/a b%c is"},
		{"bag-info.txt", "Payload-Oxum: 1.2\n", "Payload-Oxum"},
		{"manifest-sha256.txt", "2d71  ../x\n", "the line"},
		{"tagmanifest-sha256.txt", "00  bagit.txt\n", "the sum of bagit.txt"},
		{"tagmanifest-sha256.txt", "00  none.txt\n", "lists none.txt"},
		{"tagmanifest-sha256.txt", "2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881  data/a b%25c\n", "lists data/a b%c"},
	} {
		root := t.TempDir()
		files := maps.Clone(sound)
		files[c.file] = c.text
		require.NoError(t, os.Mkdir(filepath.Join(root, "data"), 0o777))
		for name, text := range files {
			require.NoError(t, os.WriteFile(filepath.Join(root, name), []byte(text), 0o666))
		}
		faults := strings.Join(bagtest.Faults(t, root), "\n")
		assert.Contains(t, faults, c.want)
		assert.Equal(t, c.want == "", faults == "", faults)
	}
}
