package files

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"sync/atomic"
	"syscall"

	"deskpart/cmd/internal/report"
)

// Output writes the files of a run. Each appears whole or not at all: it is
// written to a temporary file in the same folder, synced, and then put in its
// place. It is for several goroutines at once.
type Output struct {
	disk   Disk
	inputs protected

	mu      sync.Mutex
	swept   map[string]bool // the folders that were rid of dead runs' files
	parents map[string]bool // the folders that got new folders, to be synced at Close
}

// NewOutput returns an output that refuses to write over any of the inputs.
func NewOutput(inputs []Input) *Output {
	return NewOutputOn(systemDisk{}, inputs)
}

// NewOutputOn is NewOutput on another disk.
func NewOutputOn(disk Disk, inputs []Input) *Output {
	o := &Output{disk: disk, swept: map[string]bool{}, parents: map[string]bool{}}
	for _, input := range inputs {
		o.Protect(input.Path)
	}
	return o
}

// Protect makes the output refuse to write over these files, too.
func (o *Output) Protect(paths ...string) {
	for _, path := range paths {
		o.inputs.add(path)
	}
}

// WriteFile makes data the content of the file at path, in a folder that is
// made if need be, and waits until that is safe on the disk. It reports whether
// it wrote: a file that holds these bytes already is left alone. An error is an
// *report.OutputError, or says that path is an input.
func (o *Output) WriteFile(path string, data []byte) (wrote bool, err error) {
	folder := o.Folder(filepath.Dir(path))
	wrote, err = folder.Write(filepath.Base(path), data)
	if err == nil {
		err = folder.Sync()
	}
	return wrote, err
}

// Close waits until the new folders are safe on the disk. Not closing loses
// nothing but what a failing power supply takes.
func (o *Output) Close() error {
	o.mu.Lock()
	defer o.mu.Unlock()
	for parent := range o.parents {
		if err := o.disk.SyncFolder(parent); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return report.NewOutputError(parent, err)
		}
	}
	clear(o.parents)
	return nil
}

// Folder writes the files of one folder, so that they are made safe together. It
// removes what runs that were killed left there. Nothing is made before the
// first Write. It is for several goroutines at once.
func (o *Output) Folder(dir string) *Folder {
	dir = filepath.Clean(dir)
	o.mu.Lock()
	fresh := !o.swept[dir]
	o.swept[dir] = true
	o.mu.Unlock()
	if fresh {
		sweep(dir)
	}
	return &Folder{output: o, dir: dir}
}

// Folder is a folder that gets some of a run's files.
type Folder struct {
	output *Output
	dir    string
	dirty  atomic.Bool // files were put in their places since the last Sync

	mu   sync.Mutex
	made []string // the folders made for it, the outermost first
}

// Write makes data the content of the file name, as Output.WriteFile does, but
// leaves it to Sync to make the name safe on the disk.
func (f *Folder) Write(name string, data []byte) (wrote bool, err error) {
	path := filepath.Join(f.dir, name)
	if name != filepath.Base(name) || !filepath.IsLocal(name) || name == "." {
		return false, report.NewOutputError(path, errors.New("the name would leave its folder"))
	}
	if input, clash := f.output.inputs.find(path); clash {
		return false, fmt.Errorf("%s: this would write over the input %s; choose another output folder with --out", path, input)
	}
	if holds(path, data) {
		return false, nil
	}
	if err := f.replace(path, data); err != nil {
		f.unmake()
		return false, report.NewOutputError(path, err)
	}
	f.dirty.Store(true)
	return true, nil
}

// Sync makes the names of all files written so far safe on the disk.
func (f *Folder) Sync() error {
	if !f.dirty.Swap(false) {
		return nil
	}
	if err := f.output.disk.SyncFolder(f.dir); err != nil {
		f.dirty.Store(true)
		return report.NewOutputError(f.dir, err)
	}
	return nil
}

// replaceTries is how often a file is begun again that another run's sweep, or
// another worker's unmaking of an empty folder, took away.
const replaceTries = 5

// replace writes data to a temporary file and gives it the name path.
func (f *Folder) replace(path string, data []byte) error {
	for try := 1; ; try++ {
		err := f.make(f.dir)
		if err == nil {
			err = f.replaceOnce(path, data)
		}
		if !errors.Is(err, fs.ErrNotExist) || try == replaceTries {
			return err
		}
	}
}

func (f *Folder) replaceOnce(path string, data []byte) (err error) {
	disk := f.output.disk
	file, err := disk.Create(f.dir)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			disk.Remove(file.Name())
		}
	}()
	if err := fill(file, data); err != nil {
		return err
	}
	return disk.Rename(file.Name(), path)
}

// fill writes data, makes it safe on the disk and closes the file in any case.
func fill(file TempFile, data []byte) error {
	n, err := file.Write(data)
	if err == nil && n != len(data) {
		err = io.ErrShortWrite
	}
	if err == nil {
		err = file.Sync()
	}
	return errors.Join(err, file.Close())
}

// make makes the folder and those above it, and remembers which were new.
func (f *Folder) make(dir string) error {
	info, err := os.Stat(dir)
	switch {
	case err == nil && info.IsDir():
		return nil
	case err == nil:
		return &fs.PathError{Op: "mkdir", Path: dir, Err: syscall.ENOTDIR}
	case !errors.Is(err, fs.ErrNotExist):
		return err
	}
	parent := filepath.Dir(dir)
	if err := f.make(parent); err != nil {
		return err
	}
	if err := f.output.disk.MakeFolder(dir); errors.Is(err, fs.ErrExist) {
		return nil // another worker's
	} else if err != nil {
		return err
	}
	f.mu.Lock()
	f.made = append(f.made, dir)
	f.mu.Unlock()
	f.output.mu.Lock()
	f.output.parents[parent] = true
	f.output.mu.Unlock()
	return nil
}

// unmake removes the folders that were made for nothing. Those with something in
// them stay.
func (f *Folder) unmake() {
	f.mu.Lock()
	defer f.mu.Unlock()
	for len(f.made) > 0 {
		last := len(f.made) - 1
		if f.output.disk.Remove(f.made[last]) != nil {
			return
		}
		f.made = f.made[:last]
	}
}

// RemoveOutdated removes the files that an older manifest of the folder names and
// the new one does not, so that nobody plays from a part of an earlier run. A
// file that was changed since is somebody's own and stays. To be called before
// the new manifest is written: whoever stops in between starts from the old one
// again.
func (f *Folder) RemoveOutdated(old, now *report.Manifest) (removed []string, err error) {
	wanted := map[string]bool{report.ManifestName: true}
	for name := range now.Sums() {
		wanted[foldName(name)] = true
	}
	for name, sum := range old.Sums() {
		path := filepath.Join(f.dir, name)
		if wanted[foldName(name)] || name != filepath.Base(name) {
			continue
		}
		if got, err := sumFile(path); err != nil || got != sum {
			continue
		}
		if _, is := f.output.inputs.find(path); is {
			continue
		}
		if err := f.output.disk.Remove(path); err != nil {
			return removed, report.NewOutputError(path, err)
		}
		f.dirty.Store(true)
		removed = append(removed, name)
	}
	slices.Sort(removed)
	return removed, nil
}

// holds tells whether the file at path is a file with these bytes.
func holds(path string, data []byte) bool {
	info, err := os.Stat(path)
	if err != nil || !info.Mode().IsRegular() || info.Size() != int64(len(data)) {
		return false
	}
	there, err := os.ReadFile(path)
	return err == nil && bytes.Equal(there, data)
}
