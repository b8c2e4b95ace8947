//go:build linux

package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
)

// writers are all commands that write files, with the file that stands for the rest,
// and settings that make other bytes of it. OUT is where they write, SCORE the score.
var writers = []struct {
	name, target string
	args, other  []string
	status       int // where the target stays. Others are named one by one and go on
}{
	{"extract", "OUT/two-ferries/01 Flute.musicxml", []string{"extract", "SCORE", "--out", "OUT"}, []string{"--without-signature", "flute"}, exitNeedsPerson},
	{"extract, manifest", "OUT/two-ferries/manifest.json", []string{"extract", "SCORE", "--out", "OUT"}, []string{"--max-signature", "5"}, exitNeedsPerson},
	{"extract, bundle", "OUT/two-ferries/two-ferries.mxl", []string{"extract", "SCORE", "--out", "OUT", "--bundle"}, []string{"--without-signature", "flute"}, exitNeedsPerson},
	{"convert", "OUT/two-ferries.musicxml", []string{"convert", "SCORE", "--to", "concert", "--out", "OUT"}, []string{"--to", "written"}, exitNeedsPerson},
	{"convert, bag", "OUT/bag-info.txt", []string{"convert", "SCORE", "--to", "concert", "--bag", "--out", "OUT"}, []string{"--to", "written"}, exitCannotRun},
	{"convert, record", "OUT/deskpart-record.jsonl", []string{"convert", "SCORE", "--to", "concert", "--out", "OUT"}, nil, exitCannotRun},
	{"print", "OUT/two-ferries/01 Flute.pdf", []string{"print", "SCORE", "--out", "OUT"}, []string{"--staff", "9"}, exitNeedsPerson},
	{"exercise", "OUT/exercise-01.musicxml", []string{"exercise", "--count", "1", "--out", "OUT"}, []string{"--language", "de"}, exitCannotRun},
	{"exercise, page", "OUT/answers.html", []string{"exercise", "--count", "1", "--out", "OUT"}, []string{"--language", "de"}, exitCannotRun},
	{"mark", "OUT/class.html", []string{"mark", "KEY", "KEY", "--out", "OUT"}, []string{"--language", "de"}, exitCannotRun},
	{"explain", "OUT/lesson.html", []string{"explain", "horn in F", "--notes", "D4", "--out", "OUT/lesson.html"}, []string{"--notes", "E4"}, exitCannotRun},
	{"proof", "OUT/proof.html", []string{"proof", "SCORE", "--out", "OUT/proof.html"}, []string{"--only", "Flute"}, exitCannotRun},
	{"reassign", "OUT/part.musicxml", []string{"reassign", "SCORE", "--part", "Flute", "--to", "oboe", "--out", "OUT/part.musicxml"}, []string{"--to", "horn in F"}, exitCannotRun},
	{"survey, plan", "OUT/plan.csv", []string{"survey", "SCORE", "--plan", "OUT/plan.csv"}, nil, exitCannotRun},
	{"fit, plan", "OUT/plan.csv", []string{"fit", "SCORE", "--have", "2 flute, 2 clarinet, horn in F, tuba", "--plan", "OUT/plan.csv"}, []string{"--have", "flute, 3 clarinet, tuba"}, exitCannotRun},
}

// targets are what may stand where a file is to go. plant puts it there; it is nil for
// what the command itself made before.
var targets = []struct {
	name   string
	plant  func(at string) error
	stays  bool // without --force
	forced bool // it stays with --force, too
}{
	{"nothing", func(string) error { return nil }, false, false},
	{"a plain file of the user's", func(at string) error { return os.WriteFile(at, []byte("the user's"), 0o666) }, true, false},
	{"a file of a run", nil, false, false},
	{"a pipe", func(at string) error { return syscall.Mkfifo(at, 0o666) }, true, true},
	{"a device", func(at string) error { return syscall.Mknod(at, syscall.S_IFCHR|0o666, 1<<8|3) }, true, true}, // null(4)
	{"a link", func(at string) error { return os.Symlink("elsewhere", at) }, true, true},
	{"a link to a file", func(at string) error {
		if err := os.WriteFile(at+".theirs", []byte("the user's"), 0o666); err != nil {
			return err
		}
		return os.Symlink(filepath.Base(at)+".theirs", at)
	}, true, true},
	{"a folder", func(at string) error { return os.Mkdir(at, 0o777) }, true, true},
}

// TestNothingOfTheUsersIsWrittenOver tries every command on everything that may stand
// where it writes: what is not its own stays as it was, and is said in one line.
func TestNothingOfTheUsersIsWrittenOver(t *testing.T) {
	t.Parallel()
	score := filepath.Join(musicxmltest.ProjectRoot(t), "examples", "two-ferries.musicxml")
	sheet := t.TempDir()
	_, errs, code := command(t, "exercise", "--count", "1", "--out", sheet)
	require.Equal(t, exitDone, code, errs)
	for _, w := range writers {
		for _, target := range targets {
			t.Run(w.name+"/"+target.name, func(t *testing.T) {
				t.Parallel()
				out := filepath.Join(t.TempDir(), "out")
				fill := strings.NewReplacer("OUT", out, "SCORE", score, "KEY", filepath.Join(sheet, "answer-01.musicxml"))
				at := fill.Replace(w.target)
				run := func(more ...string) (errs string, code int) {
					var args []string
					for _, arg := range slices.Concat(w.args, more) {
						args = append(args, fill.Replace(arg))
					}
					_, errs, code = command(t, args...)
					return errs, code
				}
				require.NoError(t, os.MkdirAll(filepath.Dir(at), 0o777))
				if target.plant == nil {
					errs, code := run()
					require.Equal(t, exitDone, code, errs)
				} else if err := target.plant(at); err != nil {
					t.Skip("this user may not make ", target.name, ": ", err)
				}
				before := lookAt(t, at)
				errs, code := run(w.other...)
				if !target.stays {
					assert.Equal(t, exitDone, code, errs)
					assert.True(t, w.other == nil || lookAt(t, at) != before, "other settings, other bytes")
				} else {
					assert.Equal(t, w.status, code, errs)
					assert.Contains(t, errs, filepath.Base(at))
					assert.Equal(t, before, lookAt(t, at))
				}
				errs, code = run(append(w.other, "--force")...)
				if target.forced {
					assert.Equal(t, w.status, code, errs)
					assert.Equal(t, before, lookAt(t, at))
				} else {
					assert.Equal(t, exitDone, code, errs)
					assert.NotContains(t, lookAt(t, at), "the user's")
				}
			})
		}
	}
}

// lookAt says what stands at a path: its kind, and what is in it or where it leads.
func lookAt(t *testing.T, path string) string {
	t.Helper()
	info, err := os.Lstat(path)
	if err != nil {
		return "nothing"
	}
	kind := info.Mode().Type().String()
	switch info.Mode().Type() {
	case 0:
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		return kind + string(data)
	case fs.ModeSymlink:
		to, err := os.Readlink(path)
		require.NoError(t, err)
		theirs, _ := os.ReadFile(filepath.Join(filepath.Dir(path), to))
		return kind + to + string(theirs)
	}
	return kind
}
