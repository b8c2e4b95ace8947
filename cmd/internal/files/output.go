package files

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"sync/atomic"
	"syscall"
	"time"

	"deskpart/cmd/internal/report"
	"deskpart/musicxml"
)

// Making says who makes files, and how: it decides which files of an earlier run may
// be replaced, and stands in the record.
type Making struct {
	Command  string          // of the program, such as "convert"
	Version  string          // of the program
	Settings json.RawMessage // what decides about the bytes
	// Root is the folder of the run's record. Default: "", a hidden record beside
	// each file.
	Root string
	// Shard is the slice that the run works on. Default: the whole list.
	Shard Shard
	// Force replaces plain files whoever made them. Default: false.
	Force bool
}

// Origin is what a file is made of, for the record. The zero value is nothing.
type Origin struct {
	Source Source
	Row    json.RawMessage // what is said of it, to be said again
	Sum    string          // the file's SHA-256, where it is known. Default: it is worked out
}

// Output writes the files of a run. Each appears whole or not at all: it is
// written to a temporary file in the same folder, synced, and then put in its
// place, if what stands there may be replaced. It is for several goroutines at once.
type Output struct {
	making Making
	disk   Disk
	inputs protected

	mu      sync.Mutex
	swept   map[string]bool    // the folders that were rid of dead runs' files
	parents map[string]bool    // the folders that got new folders, to be synced at Close
	records map[string]*record // by folder
	made    []string           // folders, the outermost first
	failed  bool               // a write failed: some of them may be empty
}

// NewOutput returns an output that refuses to write over any of the inputs.
func NewOutput(m Making, inputs ...Input) *Output {
	return NewOutputOn(Patiently(systemDisk{}, isBusy, time.Sleep), m, inputs...)
}

// NewOutputOn is NewOutput on another disk.
func NewOutputOn(disk Disk, m Making, inputs ...Input) *Output {
	o := &Output{making: m, disk: disk, swept: map[string]bool{}, parents: map[string]bool{}, records: map[string]*record{}}
	for _, input := range inputs {
		o.inputs.add(input.Path)
		for _, movement := range input.Movements {
			o.inputs.add(movement.Path)
		}
	}
	return o
}

// WriteFile makes data the content of the file at path, in a folder that is
// made if need be, and waits until that is safe on the disk. It reports whether
// it wrote: a file that holds these bytes already is left alone. An error is a
// *report.OutputError, or one of the code in-the-way, or says that path is an input.
func (o *Output) WriteFile(path string, data []byte, of Origin) (wrote bool, err error) {
	folder := o.Folder(filepath.Dir(path))
	wrote, err = folder.Write(filepath.Base(path), data, of)
	if err == nil {
		err = folder.Sync()
	}
	return wrote, err
}

// Close puts the records in order and waits until the new folders are safe on the
// disk. Not closing loses nothing but what a failing power supply takes.
func (o *Output) Close() error {
	err := o.closeRecords()
	if o.failed {
		o.unmake()
	}
	return cmp.Or(err, o.syncParents())
}

func (o *Output) closeRecords() error {
	o.mu.Lock()
	defer o.mu.Unlock()
	var failed error
	for _, dir := range slices.Sorted(maps.Keys(o.records)) {
		failed = cmp.Or(failed, o.records[dir].close())
	}
	clear(o.records)
	return failed
}

func (o *Output) syncParents() error {
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

// unmake removes the folders that were made for nothing, the innermost first. Those
// with something in them stay.
func (o *Output) unmake() {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.failed = true
	for i := len(o.made) - 1; i >= 0; i-- {
		if o.disk.Remove(o.made[i]) == nil {
			o.made = slices.Delete(o.made, i, i+1)
		}
	}
}

// recordOf is the record that the files of a folder stand in, and the name of one of
// them there.
func (o *Output) recordOf(dir, name string) (*record, string, error) {
	root, recordName := o.making.Root, recordFor(o.making.Shard)
	if root == "" {
		root, recordName = dir, hiddenRecord
	}
	below, err := filepath.Rel(root, filepath.Join(dir, name))
	if err != nil {
		return nil, "", err
	}
	o.mu.Lock()
	defer o.mu.Unlock()
	r := o.records[root]
	if r == nil {
		if r, err = openRecord(&o.making, o.disk, root, recordName); err != nil {
			return nil, "", err
		}
		o.records[root] = r
	}
	return r, filepath.ToSlash(below), nil
}

// Done returns what the record says of a source of that sum, if an earlier run with
// the same settings made a file of it that is still as it was: nothing is left to do.
func (o *Output) Done(of Source) (Entry, bool) {
	r, _, err := o.recordOf(o.making.Root, ".")
	if err != nil {
		return Entry{}, false // the write says what is wrong
	}
	entries := r.all(of, madeBy(o.making.Version, o.making.Settings))
	if len(entries) == 0 {
		return Entry{}, false
	}
	return entries[0], o.isThere(entries[0])
}

// isThere tells whether the file of an entry is there as it was made.
func (o *Output) isThere(e Entry) bool {
	file := filepath.FromSlash(e.File)
	return filepath.IsLocal(file) && isAsMade(filepath.Join(o.making.Root, file), e.SHA256, e.Quick)
}

// Known is a source that the record knows by its quick sum, and with it by the other.
// Its file is read through and not kept.
func (o *Output) Known(in Input) (of Source, known bool) {
	r, _, err := o.recordOf(o.making.Root, ".")
	if err != nil || !r.knows(in.Key) {
		return of, false
	}
	of = Source{Path: in.Key, Quick: QuickSum(in)}
	if of.Quick != "" {
		of.SHA256 = r.sumOf(of)
	}
	return of, of.SHA256 != ""
}

// NewSource is a source by its path and its data.
func NewSource(path string, data []byte) Source {
	return Source{Path: path, SHA256: report.Sum(data), Quick: report.QuickSum(data)}
}

// Made returns what the record says of the files that earlier runs with the same
// settings made of a source of that sum and that are still as they were.
func (o *Output) Made(of Source) []Entry {
	r, _, err := o.recordOf(o.making.Root, ".")
	if err != nil {
		return nil // the write says what is wrong
	}
	return slices.DeleteFunc(r.all(of, madeBy(o.making.Version, o.making.Settings)), func(e Entry) bool { return !o.isThere(e) })
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
	// record is the folder's own, between Begin and End. nil: the run's.
	record *record
	named  func(name string) bool // files that an earlier manifest stands for. nil: none
	quick  sync.Map               // the quick sums of the files that were written, by name
}

// Begin takes the folder for this run, which makes it, waits until no other run is at
// work in it, and keeps a record of what is made until End: a manifest that is written
// last then stands for the files. named says which of them an earlier manifest names,
// changed since or not.
func (f *Folder) Begin(ctx context.Context, named func(name string) bool) error {
	if err := allowed(f.dir); err != nil {
		return err
	}
	if err := f.make(f.dir); err != nil {
		return report.NewOutputError(f.dir, err)
	}
	f.record = newRecord(&f.output.making, f.output.disk, f.dir, hiddenRecord)
	f.record.wait = ctx
	f.named = named
	if err := f.record.make(); err != nil {
		f.record.letGo()
		if cause := context.Cause(ctx); cause != nil {
			return cause
		}
		return report.NewOutputError(f.dir, err)
	}
	return nil
}

// End lets the folder go. If it is done, the manifest stands for all that was made, and
// the record for nothing of it.
func (f *Folder) End(done bool) error {
	r := f.record
	f.record = nil
	if done {
		return errors.Join(r.forget(), f.Sync())
	}
	if err := r.close(); err != nil {
		return err
	}
	f.output.unmake()
	return nil
}

// madeEarlier tells whether an earlier run made the file as it is, and whether it made
// any of that name.
func (f *Folder) madeEarlier(name string) (it, any bool, err error) {
	if f.named != nil && f.named(name) {
		return true, true, nil
	}
	r, below, err := f.recordOf(name)
	if err != nil {
		return false, false, err
	}
	return r.made(below)
}

// recordOf is the record that a file of the folder stands in, and its name there.
func (f *Folder) recordOf(name string) (*record, string, error) {
	if f.record != nil {
		return f.record, name, nil
	}
	return f.output.recordOf(f.dir, name)
}

// Write makes data the content of the file name, as Output.WriteFile does, but
// leaves it to Sync to make the name safe on the disk.
func (f *Folder) Write(name string, data []byte, of Origin) (wrote bool, err error) {
	path := filepath.Join(f.dir, name)
	if err := allowed(path); err != nil {
		return false, err
	}
	if name != filepath.Base(name) || !filepath.IsLocal(name) || name == "." {
		return false, report.NewOutputError(path, errors.New("the name would leave its folder"))
	}
	if input, clash := f.output.inputs.find(path); clash {
		return false, inTheWay(path, "would be written over, and is the input "+input, "choose another output with --out")
	}
	done, err := f.mayReplace(name, path, data)
	if err != nil {
		return false, err
	}
	if err := f.noteAndReplace(name, path, data, of, done); err != nil {
		f.output.unmake()
		return false, report.NewOutputError(path, err)
	}
	return !done, nil
}

// QuickSum is the quick sum of a file that was written, or was there with the same
// bytes; "" of any other.
func (f *Folder) QuickSum(name string) string {
	sum, _ := f.quick.Load(name)
	text, _ := sum.(string)
	return text
}

func (f *Folder) noteAndReplace(name, path string, data []byte, of Origin, done bool) error {
	placed, err := f.note(name, data, of, done)
	if err != nil || done {
		return err
	}
	if err := f.replace(path, whole(data)); err != nil {
		return err
	}
	placed()
	f.dirty.Store(true)
	return nil
}

// note adds a line to the record, before the file is put in its place; placed is to be
// called after. Of what is there already the record may know.
func (f *Folder) note(name string, data []byte, of Origin, done bool) (placed func(), err error) {
	placed = func() {}
	if err := f.make(cmp.Or(f.output.making.Root, f.dir)); err != nil {
		return placed, err
	}
	r, below, err := f.recordOf(name)
	if err != nil {
		return placed, err
	}
	m := &f.output.making
	e := Entry{File: below, SHA256: of.Sum, Quick: report.QuickSum(data), Command: m.Command, Version: m.Version, Settings: m.Settings, Row: of.Row}
	if e.SHA256 == "" {
		e.SHA256 = report.Sum(data)
	}
	f.quick.Store(name, e.Quick)
	if of.Source != (Source{}) {
		e.Source = &of.Source
	}
	if done && r.has(&e) {
		return placed, nil
	}
	line, err := r.add(&e)
	return func() { r.place(line) }, err
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

// replace writes a temporary file and gives it the name path.
func (f *Folder) replace(path string, write func(io.Writer) error) error {
	for try := 1; ; try++ {
		err := f.make(f.dir)
		if err == nil {
			err = f.replaceOnce(path, write)
		}
		if !errors.Is(err, fs.ErrNotExist) || try == replaceTries {
			return err
		}
	}
}

func (f *Folder) replaceOnce(path string, write func(io.Writer) error) (err error) {
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
	if err := fill(file, write); err != nil {
		return err
	}
	return disk.Rename(file.Name(), path)
}

// fill writes a file, makes it safe on the disk and closes the file in any case.
func fill(file TempFile, write func(io.Writer) error) error {
	err := write(file)
	if err == nil {
		err = file.Sync()
	}
	return errors.Join(err, file.Close())
}

// whole writes all of data.
func whole(data []byte) func(io.Writer) error {
	return func(w io.Writer) error {
		n, err := w.Write(data)
		if err == nil && n != len(data) {
			err = io.ErrShortWrite
		}
		return err
	}
}

var errNoDrive = &musicxml.Error{Err: errors.New("there is no such drive"), Hint: "choose another folder with --out"}

// make makes a folder and those above it; the output remembers which were new.
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
	if parent == dir {
		return errNoDrive
	}
	if err := f.make(parent); err != nil {
		return err
	}
	if err := f.output.disk.MakeFolder(dir); errors.Is(err, fs.ErrExist) {
		return nil // another worker's
	} else if err != nil {
		return err
	}
	f.output.mu.Lock()
	f.output.parents[parent] = true
	f.output.made = append(f.output.made, dir)
	f.output.mu.Unlock()
	return nil
}
