package files

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/files/bagtest"
	"deskpart/cmd/internal/run"
	"deskpart/musicxml/musicxmltest"
)

func makeBag(t *testing.T, dir string) bool {
	t.Helper()
	o := NewOutput(trial)
	wrote, err := WriteBag(context.Background(), run.NewPool(2, 1<<20), o, dir, []BagField{{Label: "Bag-Software-Agent", Value: "deskpart\n1.0"}})
	require.NoError(t, err)
	return wrote
}

func TestWriteBag(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, why string
		files     map[string]string
		coreutils bool // no name that only BagIt encodes
	}{
		{"scores", "folders, letters, spaces", map[string]string{"data/suite/Clarinet in B♭ 1.mxl": "abc", "data/b.mxl": "", "data/suite/a.mxl": "x"}, true},
		{"encoded names", "%, CR and LF are encoded (RFC 8493, 2.1.3)", map[string]string{"data/100%.xml": "a", "data/line\nend\r.xml": "b", "data/%0A.xml": "c"}, false},
		{"hidden files", "belong to the payload as well", map[string]string{"data/.hidden": "a"}, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			lay(t, dir, c.files)
			assert.True(t, makeBag(t, dir))
			require.Empty(t, bagtest.Faults(t, dir), c.why)
			before := musicxmltest.Contents(t, dir)
			assert.False(t, makeBag(t, dir), "a second time there is nothing to write")
			assert.Equal(t, before, musicxmltest.Contents(t, dir))
			for _, tool := range []string{"sha512", "sha256"} {
				for _, tag := range []string{"bagit.txt", "bag-info.txt", "manifest-sha256.txt", "manifest-sha512.txt"} {
					assert.Contains(t, before["tagmanifest-"+tool+".txt"], "  "+tag+"\n")
				}
				for _, list := range []string{"manifest-", "tagmanifest-"} {
					if _, err := exec.LookPath(tool + "sum"); err == nil && c.coreutils {
						check := exec.Command(tool+"sum", "--check", "--strict", "--quiet", list+tool+".txt")
						check.Dir = dir
						out, err := check.CombinedOutput()
						assert.NoError(t, err, string(out))
					}
				}
			}
		})
	}
}

// The lines are worked out by hand; the sums of "abc" are those of FIPS 180-4's
// examples, and SHA-256 of nothing is widely printed.
func TestBagLines(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	lay(t, dir, map[string]string{"data/b.mxl": "abc", "data/a/z.mxl": ""})
	makeBag(t, dir)
	files := musicxmltest.Contents(t, dir)
	assert.Equal(t, "Bag-Software-Agent: deskpart 1.0\nPayload-Oxum: 3.2\n", files["bag-info.txt"])
	assert.Equal(t, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855  data/a/z.mxl\n"+
		"ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad  data/b.mxl\n", files["manifest-sha256.txt"])
	assert.Contains(t, files["manifest-sha512.txt"],
		"ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a2192992a274fc1a836ba3c23a3feebbd454d4423643ce80e2a9ac94fa54ca49f  data/b.mxl\n")
}

// A bag that was changed is none, and is one again when it is written again.
func TestBagWrittenAgain(t *testing.T) {
	t.Parallel()
	for _, change := range []map[string]string{
		{"data/a.mxl": "abd"},
		{"data/c.mxl": "x"}, // a further file
		{"bag-info.txt": "Payload-Oxum: 4.2\n"},
		{"bagit.txt": "BagIt-Version: 0.97\n"},
	} {
		dir := t.TempDir()
		lay(t, dir, map[string]string{"data/a.mxl": "abc", "data/b.mxl": "x"})
		makeBag(t, dir)
		lay(t, dir, change)
		assert.NotEmpty(t, bagtest.Faults(t, dir))
		makeBag(t, dir)
		assert.Empty(t, bagtest.Faults(t, dir))
	}
}

func TestBagRefuses(t *testing.T) {
	t.Parallel()
	pool := run.NewPool(1, 1<<20)
	dir := t.TempDir()
	_, err := WriteBag(context.Background(), pool, NewOutput(trial), dir, nil)
	assert.EqualError(t, err, filepath.Join(dir, "data")+": there is no such file or folder (any more); check its name")
	lay(t, dir, map[string]string{"data/a.mxl": "abc"})
	require.NoError(t, os.Symlink("a.mxl", filepath.Join(dir, "data/l.mxl")))
	_, err = WriteBag(context.Background(), pool, NewOutput(trial), dir, nil)
	assert.EqualError(t, err, filepath.Join(dir, "data/l.mxl")+": a bag holds files and folders alone; move this away")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	require.NoError(t, os.Remove(filepath.Join(dir, "data/l.mxl")))
	_, err = WriteBag(ctx, pool, NewOutput(trial), dir, nil)
	assert.ErrorIs(t, err, context.Canceled)
	assert.NoFileExists(t, filepath.Join(dir, "bagit.txt"), "nothing of a bag before its files are known")
}
