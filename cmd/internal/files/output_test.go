//go:build linux

package files

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/report"
	"deskpart/musicxml/musicxmltest"
)

// helperStep makes this test binary a run that kills itself at that step of the disk.
const helperStep = "DESKPART_TEST_KILL_AT"

func TestMain(m *testing.M) {
	if step, err := strconv.Atoi(os.Getenv(helperStep)); err == nil {
		disk := &stoppingDisk{Disk: systemDisk{}, step: step, stop: func() {
			syscall.Kill(os.Getpid(), syscall.SIGKILL)
			select {}
		}}
		if err := writeExample(NewOutputOn(disk, trial), os.Args[len(os.Args)-1]); err != nil {
			fmt.Println(err)
			os.Exit(2)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// writeExample is a run of two scores with their manifests, into folders that are
// not there yet.
func writeExample(o *Output, dir string) error {
	for _, score := range []string{"suite/one", "two"} {
		folder := o.Folder(filepath.Join(dir, score))
		for _, name := range []string{"01 Flute.musicxml", "02 Horn.musicxml"} {
			if _, err := folder.Write(name, []byte(strings.Repeat(score+name, 5000)), Origin{}); err != nil {
				return err
			}
		}
		if err := folder.Sync(); err != nil {
			return err
		}
		if _, err := o.WriteFile(filepath.Join(dir, score, report.ManifestName), []byte(score), Origin{}); err != nil {
			return err
		}
	}
	return o.Close()
}

// stoppingDisk stops before the step of that number, counting from 1. Every
// operation is a step, and a write has one more in its middle.
type stoppingDisk struct {
	Disk
	mu    sync.Mutex
	steps int
	step  int
	stop  func()
}

func (d *stoppingDisk) count() {
	d.mu.Lock()
	d.steps++
	now := d.steps == d.step
	d.mu.Unlock()
	if now {
		d.stop()
	}
}

func (d *stoppingDisk) Create(folder string) (TempFile, error) {
	d.count()
	file, err := d.Disk.Create(folder)
	return stoppingFile{file, d}, err
}
func (d *stoppingDisk) Rename(from, to string) error { d.count(); return d.Disk.Rename(from, to) }
func (d *stoppingDisk) Remove(path string) error     { d.count(); return d.Disk.Remove(path) }
func (d *stoppingDisk) MakeFolder(path string) error { d.count(); return d.Disk.MakeFolder(path) }
func (d *stoppingDisk) SyncFolder(path string) error { d.count(); return d.Disk.SyncFolder(path) }

type stoppingFile struct {
	TempFile
	disk *stoppingDisk
}

func (f stoppingFile) Write(p []byte) (int, error) {
	f.disk.count()
	n, err := f.TempFile.Write(p[:len(p)/2])
	f.disk.count()
	if err != nil {
		return n, err
	}
	m, err := f.TempFile.Write(p[len(p)/2:])
	return n + m, err
}
func (f stoppingFile) Sync() error  { f.disk.count(); return f.TempFile.Sync() }
func (f stoppingFile) Close() error { f.disk.count(); return f.TempFile.Close() }

// A run that is killed before any step, and then run again, ends in the same
// files as one that was not, with nothing besides.
func TestKilledAtEveryStep(t *testing.T) {
	t.Parallel()
	clean := t.TempDir()
	whole := &stoppingDisk{Disk: systemDisk{}}
	require.NoError(t, writeExample(NewOutputOn(whole, trial), clean))
	want := musicxmltest.Contents(t, clean)
	require.Len(t, want, 8, "with a record in each folder")
	left := 0
	for step := 1; step <= whole.steps; step++ {
		dir := t.TempDir()
		run := exec.Command(os.Args[0], dir)
		run.Env = append(os.Environ(), helperStep+"="+strconv.Itoa(step))
		err := run.Run()
		var exit *exec.ExitError
		require.ErrorAs(t, err, &exit)
		require.Equal(t, syscall.SIGKILL, exit.Sys().(syscall.WaitStatus).Signal())
		for name, text := range musicxmltest.Contents(t, dir) {
			switch base := filepath.Base(name); {
			case isTempName(base):
				left++
			case base != hiddenRecord: // which grows line by line

				assert.Equal(t, want[name], text, "step %d: %s is there, so it is whole", step, name)
			}
		}
		require.NoError(t, writeExample(NewOutput(trial), dir))
		assert.Equal(t, want, musicxmltest.Contents(t, dir), "killed at step %d and run again", step)
	}
	assert.Positive(t, left, "some kills left a temporary file, or the test tests nothing")
}

// faultyDisk fails one kind of step with an error.
type faultyDisk struct {
	Disk
	step string
	err  error
}

func (d faultyDisk) fails(step string) error {
	if step == d.step {
		return &fs.PathError{Op: step, Path: "x", Err: d.err}
	}
	return nil
}

func (d faultyDisk) Create(folder string) (TempFile, error) {
	if err := d.fails("create"); err != nil {
		return nil, err
	}
	file, err := d.Disk.Create(folder)
	return faultyFile{file, d}, err
}

func (d faultyDisk) Rename(from, to string) error {
	return errors.Join(d.fails("rename"), d.orElse("rename", func() error { return d.Disk.Rename(from, to) }))
}

func (d faultyDisk) SyncFolder(path string) error {
	return errors.Join(d.fails("syncfolder"), d.orElse("syncfolder", func() error { return d.Disk.SyncFolder(path) }))
}

func (d faultyDisk) MakeFolder(path string) error {
	return errors.Join(d.fails("makefolder"), d.orElse("makefolder", func() error { return d.Disk.MakeFolder(path) }))
}

func (d faultyDisk) orElse(step string, do func() error) error {
	if step == d.step {
		return nil
	}
	return do()
}

type faultyFile struct {
	TempFile
	disk faultyDisk
}

func (f faultyFile) Write(p []byte) (int, error) {
	switch f.disk.step {
	case "write":
		n, _ := f.TempFile.Write(p[:len(p)/3])
		return n, f.disk.fails("write")
	case "shortwrite":
		return f.TempFile.Write(p[:len(p)/3])
	}
	return f.TempFile.Write(p)
}

func (f faultyFile) Sync() error {
	if err := f.disk.fails("sync"); err != nil {
		return err
	}
	return f.TempFile.Sync()
}

func (f faultyFile) Close() error { return errors.Join(f.TempFile.Close(), f.disk.fails("close")) }

// Whatever fails, one line says so, the old file stays, and nothing new is left,
// not even an empty folder.
func TestEveryStepFails(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		step, want string
		err        error
	}{
		{"create", "you may not write here; choose another folder with --out", syscall.EACCES},
		{"create", "the disk cannot be written to; choose another folder with --out", syscall.EROFS},
		{"create", "too many files are open; run it with fewer --jobs", syscall.EMFILE},
		{"create", "the path is too long; choose another folder with --out", syscall.ENAMETOOLONG},
		{"create", "the folder cannot be made, or went away while it was written to; check --out and run it again", fs.ErrNotExist},
		{"write", "the disk is full; make room and run it again", syscall.ENOSPC},
		{"write", "your share of the disk is used up; make room and run it again", syscall.EDQUOT},
		{"shortwrite", "not all of it could be written; run it again", nil},
		{"sync", "the disk does not work properly; save what is on it", syscall.EIO},
		{"close", "the disk is full; make room and run it again", syscall.ENOSPC},
		{"rename", "the disk is full; make room and run it again", syscall.ENOSPC},
		{"rename", "a folder stands where the file should go; move it away or choose another folder with --out", syscall.EISDIR},
		{"makefolder", "the disk cannot be written to; choose another folder with --out", syscall.EROFS},
		{"makefolder", "odd", errors.New("odd")},
	} {
		t.Run(c.step+" "+fmt.Sprint(c.err), func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			o := NewOutputOn(faultyDisk{systemDisk{}, c.step, c.err}, trial)
			path := filepath.Join(dir, "new", "deep", "a.xml")
			wrote, err := o.WriteFile(path, []byte("new content"), Origin{})
			assert.False(t, wrote)
			var failed *report.OutputError
			require.ErrorAs(t, err, &failed)
			assert.Equal(t, path+": "+c.want, err.Error())
			assert.NotContains(t, err.Error(), "\n")
			o.Close()
			assert.NoDirExists(t, filepath.Join(dir, "new"))
			if c.step == "makefolder" {
				return
			}
			old := filepath.Join(dir, "old.xml")
			require.NoError(t, os.WriteFile(old, []byte("old"), 0o666))
			_, err = o.WriteFile(old, []byte("new content"), Origin{})
			assert.Error(t, err)
			o.Close()
			assert.Equal(t, map[string]string{"old.xml": "old"}, musicxmltest.Contents(t, dir))
		})
	}
}

func TestFolderSyncFails(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	o := NewOutputOn(faultyDisk{systemDisk{}, "syncfolder", syscall.EIO}, trial)
	_, err := o.WriteFile(filepath.Join(dir, "n", "a.xml"), []byte("x"), Origin{})
	assert.EqualError(t, err, filepath.Join(dir, "n")+": the disk does not work properly; save what is on it")
	assert.EqualError(t, o.Close(), dir+": the disk does not work properly; save what is on it")
}

// What stands in the way, on the real disk. (Permissions do not stop root.)
func TestInTheWay(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "file"), nil, 0o666))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "folder.xml"), 0o777))
	require.NoError(t, os.Symlink("nowhere", filepath.Join(dir, "dangling")))
	for _, c := range []struct{ name, why, path, want string }{
		{"a file for the folder", "cannot be entered", "file/a.xml", "a file stands where a folder is needed; choose another folder with --out"},
		{"a file above the folder", "the same", "file/f/a.xml", "a file stands where a folder is needed; choose another folder with --out"},
		{"a link to nowhere", "cannot be made", "dangling/a.xml", "the folder cannot be made, or went away while it was written to; check --out and run it again"},
		{"a name too long", "the disk's own limit", strings.Repeat("x", 300) + "/a.xml", "the path is too long; choose another folder with --out"},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := filepath.Join(dir, c.path)
			_, err := NewOutput(trial).WriteFile(path, []byte("x"), Origin{})
			assert.EqualError(t, err, path+": "+c.want, c.why)
		})
	}
	assert.Equal(t, map[string]string{"file": ""}, withoutLinks(t, dir))
	_, err := NewOutput(trial).WriteFile("/proc/deskpart/a.xml", []byte("x"), Origin{})
	assert.Error(t, err, "a file system that takes no files")
}

func withoutLinks(t *testing.T, dir string) map[string]string {
	t.Helper()
	require.NoError(t, os.Remove(filepath.Join(dir, "dangling")))
	return musicxmltest.Contents(t, dir)
}

// A small file system that is really full, and then really read-only.
func TestRealDiskFull(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	if err := exec.Command("mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", dir).Run(); err != nil {
		t.Skip("a file system cannot be mounted here: ", err)
	}
	defer exec.Command("umount", dir).Run()
	o := NewOutput(trial)
	_, err := o.WriteFile(filepath.Join(dir, "small"), []byte("x"), Origin{})
	require.NoError(t, err)
	_, err = o.WriteFile(filepath.Join(dir, "f", "large"), make([]byte, 1<<20), Origin{})
	assert.EqualError(t, err, filepath.Join(dir, "f", "large")+": the disk is full; make room and run it again")
	require.NoError(t, o.Close())
	assert.Equal(t, []string{hiddenRecord, "small"}, slices.Sorted(maps.Keys(musicxmltest.Contents(t, dir))))
	require.NoError(t, exec.Command("mount", "-o", "remount,ro", dir).Run())
	for _, name := range []string{"small", "f/new"} {
		_, err = o.WriteFile(filepath.Join(dir, name), []byte("y"), Origin{})
		assert.EqualError(t, err, filepath.Join(dir, name)+": the disk cannot be written to; choose another folder with --out")
	}
	wrote, err := o.WriteFile(filepath.Join(dir, "small"), []byte("x"), Origin{})
	assert.False(t, wrote)
	assert.NoError(t, err, "nothing to write, so nothing fails")
}

func TestWriteFile(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	o := NewOutput(trial)
	path := filepath.Join(dir, "f", "a.xml")
	write := func(data string) bool {
		wrote, err := o.WriteFile(path, []byte(data), Origin{})
		require.NoError(t, err)
		got, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, data, string(got))
		return wrote
	}
	assert.True(t, write("one"))
	before, err := os.Stat(path)
	require.NoError(t, err)
	assert.False(t, write("one"), "the same bytes are not written again")
	after, err := os.Stat(path)
	require.NoError(t, err)
	assert.True(t, os.SameFile(before, after))
	assert.True(t, write("two"), "other bytes of the same length are")
	assert.True(t, write(""), "no bytes are a file as well")
}

func TestNamesStayInTheFolder(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	folder := NewOutput(trial).Folder(filepath.Join(dir, "f"))
	for _, name := range []string{"../a", "..", ".", "", "a/b", "/etc/a", "a/"} {
		_, err := folder.Write(name, []byte("x"), Origin{})
		assert.Error(t, err, name)
	}
	assert.Empty(t, musicxmltest.Contents(t, dir))
}

// Inputs are never written over, by whatever path the output comes to them.
func TestOverAnInput(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	require.NoError(t, os.MkdirAll(at("in"), 0o777))
	require.NoError(t, os.MkdirAll(at("store"), 0o777))
	for _, name := range []string{"in/a.xml", "store/b", "in/hard.xml", "in/Case.xml", "in/case.xml"} {
		require.NoError(t, os.WriteFile(at(name), []byte("theirs"), 0o666))
	}
	require.NoError(t, os.Symlink("../store/b", at("in/b.xml")))
	require.NoError(t, os.Symlink("in", at("other")))
	require.NoError(t, os.Link(at("in/hard.xml"), at("hard.xml")))
	inputs := []Input{{Path: at("in/a.xml")}, {Path: at("in/b.xml")}, {Path: at("in/hard.xml")}, {Path: at("in/Case.xml")}, {Path: at("vanished.xml")}}
	for _, c := range []struct {
		name, why, path string
		refused         bool
	}{
		{"itself", "the plain case", "in/a.xml", true},
		{"by a link to the folder", "the same file", "other/a.xml", true},
		{"by the long way", "the same file", "in/../other/../in/a.xml", true},
		{"the link that was given", "it would be gone", "in/b.xml", true},
		{"what the link leads to", "the link would lead to other bytes", "store/b", true},
		{"another name of the same file", "the name is replaced, the input's bytes stay", "hard.xml", false},
		{"a name with other capitals", "another file on this disk", "in/case.xml", false},
		{"beside it", "no input", "in/c.xml", false},
		{"an input that vanished", "nothing to lose", "vanished.xml", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			wrote, err := NewOutput(Making{Command: "trial", Force: true}, inputs...).WriteFile(at(c.path), []byte("ours"), Origin{})
			assert.Equal(t, c.refused, err != nil, c.why)
			assert.Equal(t, !c.refused, wrote, c.why)
			if c.refused {
				assert.Contains(t, err.Error(), "would be written over, and is the input ")
			}
			for _, input := range inputs[:4] {
				data, err := os.ReadFile(input.Path)
				require.NoError(t, err)
				assert.Equal(t, "theirs", string(data))
			}
		})
	}
}

// A file in use is somebody's: a sweep leaves it alone. A dead run's goes.
func TestSweep(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	living, err := systemDisk{}.Create(dir)
	require.NoError(t, err)
	dead, err := systemDisk{}.Create(dir)
	require.NoError(t, err)
	require.NoError(t, dead.Close())
	require.NoError(t, os.Mkdir(tempName(dir), 0o777))
	require.NoError(t, os.Symlink("elsewhere", tempName(dir)))
	require.NoError(t, os.WriteFile(filepath.Join(dir, ".deskpart-mine"), nil, 0o666))
	sweep(dir)
	assert.FileExists(t, living.Name())
	assert.NoFileExists(t, dead.Name())
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 4, "what no run of ours made stays")
	require.NoError(t, living.Close())
	sweep(filepath.Join(dir, "none"))
}

// Many runs in one folder at once, each sweeping, all writing the same files.
func TestRunsTogether(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	var runs sync.WaitGroup
	for range 8 {
		runs.Go(func() {
			for i := range 20 {
				o := NewOutput(trial)
				for n := range 3 {
					path := filepath.Join(dir, fmt.Sprint("f", n), "a.xml")
					_, err := o.WriteFile(path, []byte(strings.Repeat(fmt.Sprint(i%2), 1000)), Origin{})
					assert.NoError(t, err)
					data, err := os.ReadFile(path)
					assert.NoError(t, err)
					assert.Len(t, data, 1000, "always whole")
				}
				assert.NoError(t, o.Close())
			}
		})
	}
	runs.Wait()
	assert.Len(t, musicxmltest.Contents(t, dir), 6, "with a record in each folder")
}

// Several workers write into one new folder, and some of the files fail.
func TestWorkersTogether(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "new", "folder")
	folder := NewOutput(trial).Folder(dir)
	var workers sync.WaitGroup
	for i := range 20 {
		workers.Go(func() {
			name := fmt.Sprint(i)
			if i%3 == 0 {
				name = strings.Repeat("x", 300)
			}
			wrote, err := folder.Write(name, []byte(name), Origin{})
			assert.Equal(t, i%3 != 0, wrote)
			assert.Equal(t, i%3 == 0, err != nil)
		})
	}
	workers.Wait()
	require.NoError(t, folder.Sync())
	assert.Len(t, musicxmltest.Contents(t, dir), 14, "with a record")
}

// Two processes at once, one of them killed at some step, do no harm.
func TestProcessesTogether(t *testing.T) {
	t.Parallel()
	clean := t.TempDir()
	require.NoError(t, writeExample(NewOutput(trial), clean))
	want := musicxmltest.Contents(t, clean)
	for step := 1; step < 40; step += 6 {
		dir := t.TempDir()
		run := exec.Command(os.Args[0], dir)
		run.Env = append(os.Environ(), helperStep+"="+strconv.Itoa(step))
		require.NoError(t, run.Start())
		assert.NoError(t, writeExample(NewOutput(trial), dir))
		run.Wait()
		assert.NoError(t, writeExample(NewOutput(trial), dir))
		assert.Equal(t, want, musicxmltest.Contents(t, dir))
	}
}

func TestRemoveOutdated(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	o := NewOutput(trial, Input{Path: filepath.Join(dir, "input.xml")})
	for _, name := range []string{"same.xml", "old.xml", "changed.xml", "input.xml"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(name), 0o666))
	}
	row := func(name, data string) report.PartRow {
		return report.PartRow{File: name, SHA256: report.Sum([]byte(data))}
	}
	old := &report.Manifest{Parts: []report.PartRow{row("same.xml", "same.xml"), row("old.xml", "old.xml"), row("changed.xml", "before"),
		row("input.xml", "input.xml"), row("gone.xml", "x"), row("../"+filepath.Base(dir)+"/same.xml", "same.xml"), {Status: "tacet"}}}
	removed, err := o.Folder(dir).RemoveOutdated(old, &report.Manifest{Parts: []report.PartRow{row("SAME.xml", "")}})
	require.NoError(t, err)
	assert.Equal(t, []string{"old.xml"}, removed)
	assert.Equal(t, map[string]string{"same.xml": "same.xml", "changed.xml": "changed.xml", "input.xml": "input.xml"}, musicxmltest.Contents(t, dir))
}
