package musicxmltest

import (
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
)

var folder string

// Main runs the tests of a package that share a folder, gone when they end: its TestMain.
func Main(m *testing.M) {
	var err error
	if folder, err = os.MkdirTemp("", "deskpart-test-"); err != nil {
		panic(err)
	}
	defer os.RemoveAll(folder)
	m.Run()
}

// Folder is the folder that Main makes.
func Folder() string { return folder }

var program = sync.OnceValues(func() (string, error) {
	at := filepath.Join(folder, "deskpart")
	said, err := exec.Command("go", "build", "-o", at, "deskpart/cmd/deskpart").CombinedOutput()
	if err != nil {
		err = errors.Join(err, errors.New(string(said)))
	}
	return at, err
})

// Program is the path of the program, built once, in the folder that Main makes.
func Program(t testing.TB) string {
	t.Helper()
	at, err := program()
	if err != nil {
		t.Fatal(err)
	}
	return at
}

// Contents are the files below a folder: their texts by their paths from it.
func Contents(t testing.TB, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	if err := filepath.WalkDir(dir, func(at string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		data, err := os.ReadFile(at)
		below, _ := filepath.Rel(dir, at)
		files[filepath.ToSlash(below)] = string(data)
		return err
	}); err != nil {
		t.Fatal(err)
	}
	return files
}
