package files

import (
	"context"
	"crypto/sha256"
	"crypto/sha512"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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

// checkBag is a second reading of RFC 8493, section 3 (complete and valid bags),
// that shares no code with the writer.
func checkBag(dir string) error {
	declaration, err := os.ReadFile(filepath.Join(dir, "bagit.txt"))
	if err != nil || string(declaration) != "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n" {
		return errors.New("bagit.txt is not a declaration")
	}
	for algorithm, sum := range map[string]hash.Hash{"sha512": sha512.New(), "sha256": sha256.New()} {
		listed, err := checkList(dir, "manifest-"+algorithm+".txt", sum)
		if err != nil {
			return err
		}
		if err := samePayload(dir, listed); err != nil {
			return err
		}
		tags, err := checkList(dir, "tagmanifest-"+algorithm+".txt", sum)
		if err != nil {
			return err
		}
		for _, tag := range []string{"bagit.txt", "bag-info.txt", "manifest-sha256.txt", "manifest-sha512.txt"} {
			if _, has := tags[tag]; !has {
				return fmt.Errorf("%s is not vouched for", tag)
			}
		}
		if err := checkOxum(dir, listed); err != nil {
			return err
		}
	}
	return nil
}

func checkList(dir, list string, sum hash.Hash) (map[string]int, error) {
	text, err := os.ReadFile(filepath.Join(dir, list))
	if err != nil {
		return nil, err
	}
	sizes := map[string]int{}
	for _, line := range strings.Split(strings.TrimSuffix(string(text), "\n"), "\n") {
		if line == "" {
			continue
		}
		digits, name, _ := strings.Cut(line, " ")
		for code, letter := range map[string]string{"%0A": "\n", "%0D": "\r"} {
			name = strings.ReplaceAll(name, code, letter)
		}
		name = strings.ReplaceAll(strings.TrimLeft(name, " *"), "%25", "%")
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			return nil, err
		}
		sum.Reset()
		sum.Write(data)
		if _, twice := sizes[name]; twice || hex.EncodeToString(sum.Sum(nil)) != digits {
			return nil, fmt.Errorf("%s: %q is damaged or listed twice", list, name)
		}
		sizes[name] = len(data)
	}
	return sizes, nil
}

func samePayload(dir string, listed map[string]int) error {
	found := 0
	err := filepath.WalkDir(filepath.Join(dir, "data"), func(at string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		found++
		below, err := filepath.Rel(dir, at)
		name := filepath.ToSlash(below)
		if _, has := listed[name]; !has {
			return fmt.Errorf("%q is not listed", name)
		}
		return err
	})
	if err == nil && found != len(listed) {
		err = errors.New("something is listed that is no payload")
	}
	return err
}

func checkOxum(dir string, listed map[string]int) error {
	info, err := os.ReadFile(filepath.Join(dir, "bag-info.txt"))
	bytes := 0
	for _, size := range listed {
		bytes += size
	}
	if want := fmt.Sprintf("\nPayload-Oxum: %d.%d\n", bytes, len(listed)); err == nil && !strings.Contains("\n"+string(info), want) {
		return fmt.Errorf("bag-info.txt does not say %q", want)
	}
	return err
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
			require.NoError(t, checkBag(dir), c.why)
			before := musicxmltest.Contents(t, dir)
			assert.False(t, makeBag(t, dir), "a second time there is nothing to write")
			assert.Equal(t, before, musicxmltest.Contents(t, dir))
			for _, tool := range []string{"sha512", "sha256"} {
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

// The checker is worth something only if it finds damage.
func TestBagDamage(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, why, file, text string }{
		{"a byte changed", "damage", "data/a.mxl", "abd"},
		{"a file added", "not complete", "data/c.mxl", "x"},
		{"a list changed", "vouched for by the tag manifest", "bag-info.txt", "Payload-Oxum: 4.2\n"},
		{"another version", "not a bag of this kind", "bagit.txt", "BagIt-Version: 0.97\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			lay(t, dir, map[string]string{"data/a.mxl": "abc", "data/b.mxl": "x"})
			makeBag(t, dir)
			require.NoError(t, checkBag(dir))
			lay(t, dir, map[string]string{c.file: c.text})
			assert.Error(t, checkBag(dir), c.why)
			makeBag(t, dir)
			assert.NoError(t, checkBag(dir), "written again, it is a bag of what is there now")
		})
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
