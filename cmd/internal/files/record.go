package files

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"deskpart/cmd/internal/report"
)

// RecordName is the record of what runs made in a folder: JSON lines, each an Entry.
// A run over a slice of a list has one of its own, so that none waits for another.
const RecordName = "deskpart-record.jsonl"

// hiddenRecord is the record in the folder of a file that was named itself, such as
// a plan.
const hiddenRecord = "." + RecordName

// recordFor is the name of the record of a slice.
func recordFor(s Shard) string {
	if s.N <= 1 {
		return RecordName
	}
	return strings.Replace(RecordName, ".", "."+strings.Replace(s.String(), "/", "-of-", 1)+".", 1)
}

// Entry is a file that was made: out of what, how, and what became of it.
type Entry struct {
	File     string          `json:"file"`            // below the record's folder, with forward slashes
	SHA256   string          `json:"sha256"`          // as it was made. Default: whatever is in it
	Quick    string          `json:"xxh64,omitempty"` // the same as a quick sum. Default: the SHA-256 tells
	Command  string          `json:"command"`
	Version  string          `json:"version"`
	Settings json.RawMessage `json:"settings"` // what decides about the bytes
	Source   *Source         `json:"source,omitempty"`
	// Row is what the run said of the source, to be said again. Default: none.
	Row json.RawMessage `json:"row,omitempty"`
}

// Source is what a file was made of.
type Source struct {
	Path   string `json:"path"` // below the folder that was searched, with forward slashes
	SHA256 string `json:"sha256"`
	Quick  string `json:"xxh64,omitempty"` // the same as a quick sum. Default: the SHA-256 tells
}

// record is the record of one folder, read and gone on with by one command. Lines are
// added before the files that they are of are put in their places, so that a run that
// is killed leaves no file that nobody knows; close puts them in order. It is for
// several goroutines at once.
type record struct {
	dir, name string
	making    *Making
	disk      Disk

	wait context.Context // ends the waiting for a run that has it. nil: some seconds do

	mu        sync.Mutex
	release   func() // gives the record's lock back; nil: not taken
	lines     []recordLine
	ours      map[string][]int // the lines of this command, by file, oldest first
	bySource  map[string][]int // the same, by source
	parts     []recordPart     // the files that the lines stand in; the first is the record's own
	journal   *os.File         // the own file, to be gone on with; nil: nothing was added
	untidy    bool             // the own file is not as close would write it
	forgotten bool             // the lines of this command are to go
}

// recordPart is a file of the record, opened when one of its lines is asked for.
type recordPart struct {
	name string
	size int64
	file *os.File
}

// recordLine is what has to be known of an entry; the rest is read when it is asked for.
type recordLine struct {
	file, command, sum string
	source             Source // the zero value: none
	madeBy             string // version and settings
	part               int
	offset             int64
	length             int
	placed             bool // the file was put in its place by this run
}

func newRecord(m *Making, disk Disk, dir, name string) *record {
	return &record{dir: dir, name: name, making: m, disk: disk, ours: map[string][]int{}, bySource: map[string][]int{},
		parts: []recordPart{{name: name}}}
}

// openRecord reads the record of a folder and takes it if it is there.
func openRecord(m *Making, disk Disk, dir, name string) (*record, error) {
	r := newRecord(m, disk, dir, name)
	if err := r.takeAll(); err != nil {
		r.letGo()
		return nil, err
	}
	return r, nil
}

// takeAll takes the record's own file and reads those of other slices.
func (r *record) takeAll() error {
	if err := r.take(); err != nil {
		return err
	}
	if r.name != hiddenRecord {
		r.findOthers()
	}
	for part := 1; part < len(r.parts); part++ {
		if err := r.read(part); err != nil {
			return err
		}
	}
	return nil
}

// findOthers finds the records of other slices.
func (r *record) findOthers() {
	entries, _ := os.ReadDir(r.dir) // what cannot be read is none
	for _, entry := range entries {
		if name := entry.Name(); name != r.name && entry.Type().IsRegular() && isRecordName(name) {
			r.parts = append(r.parts, recordPart{name: name})
		}
	}
}

func isRecordName(name string) bool {
	stem, extension, _ := strings.Cut(RecordName, ".")
	return strings.HasPrefix(name, stem+".") && strings.HasSuffix(name, "."+extension)
}

func (r *record) path() string { return filepath.Join(r.dir, r.name) }

// take locks the record's own file and reads it, if it is there by now: another run may
// just have made it.
func (r *record) take() error {
	if r.release != nil {
		return nil
	}
	if err := notPlain(r.path()); err != nil {
		return err
	}
	ctx := r.wait
	if ctx == nil {
		patient, cancel := context.WithTimeout(context.Background(), patience)
		defer cancel()
		ctx = patient
	}
	release, err := waitLock(ctx, r.path(), os.O_RDWR)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case errors.Is(err, context.DeadlineExceeded):
		return errors.New("another run is writing here; run it again when that has ended, or choose another --out")
	case err != nil:
		return err
	}
	r.release = release
	return r.read(0)
}

// read reads the lines of a file. One that a killed run did not end is passed over.
func (r *record) read(part int) error {
	file, err := os.OpenFile(filepath.Join(r.dir, r.parts[part].name), os.O_RDONLY|openWithoutWaiting, 0)
	if err != nil {
		return report.ReadingError(err)
	}
	defer file.Close()
	reader := bufio.NewReader(file)
	for {
		text, err := reader.ReadBytes('\n')
		if len(text) > 0 && !r.readLine(part, text) && part == 0 && !r.making.Force {
			return inTheWay(r.path(), "is no record of what runs made", "")
		}
		r.parts[part].size += int64(len(text))
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
	}
}

// readLine reports whether the line is one of a record.
func (r *record) readLine(part int, text []byte) bool {
	var e Entry
	if !bytes.HasSuffix(text, []byte("\n")) || json.Unmarshal(text, &e) != nil || e.File == "" {
		r.untidy = r.untidy || part == 0
		return isCutShort(text)
	}
	if last := len(r.lines) - 1; part == 0 && last >= 0 && r.lines[last].key() >= key(e.File, e.Command) {
		r.untidy = true
	}
	r.index(&e, part, len(text))
	return true
}

// isCutShort reports whether a text is the beginning of a line of a record.
func isCutShort(text []byte) bool {
	const begin = `{"file":`
	n := min(len(text), len(begin))
	return string(text[:n]) == begin[:n] && !bytes.HasSuffix(text, []byte("\n"))
}

// key orders the lines: by file, then by command.
func key(file, command string) string { return file + "\x00" + command }

func (l *recordLine) key() string { return key(l.file, l.command) }

// index keeps what has to be known of a line that stands at the end of a part.
func (r *record) index(e *Entry, part, length int) int {
	line := recordLine{file: e.File, command: e.Command, sum: e.SHA256, madeBy: madeBy(e.Version, e.Settings),
		part: part, offset: r.parts[part].size, length: length}
	if e.Source != nil {
		line.source = *e.Source
	}
	n := len(r.lines)
	r.lines = append(r.lines, line)
	if e.Command != r.making.Command {
		return n
	}
	r.ours[line.file] = append(r.ours[line.file], n)
	if of := line.source.Path; of != "" {
		r.bySource[of] = append(r.bySource[of], n)
	}
	return n
}

// madeBy is the program's version and the settings in one, to be compared.
func madeBy(version string, settings json.RawMessage) string {
	if settings == nil {
		settings = json.RawMessage("null")
	}
	return version + " " + report.CompactJSON(settings)
}

// made tells whether an earlier run of the command made a file as it is, and whether it
// made any of that name. It looks at the file when no other run is at work here.
func (r *record) made(file string) (it, any bool, err error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if err := r.take(); err != nil {
		return false, false, err
	}
	lines := r.ours[file]
	sum, err := sumFile(filepath.Join(r.dir, filepath.FromSlash(file)))
	if errors.Is(err, fs.ErrNotExist) {
		return true, true, nil
	}
	it = slices.ContainsFunc(lines, func(n int) bool { return r.lines[n].sum == sum || r.lines[n].sum == "" })
	return it, len(lines) > 0, err
}

// has tells whether the newest line of a file is this one.
func (r *record) has(e *Entry) bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	lines := r.ours[e.File]
	if len(lines) == 0 {
		return false
	}
	l := &r.lines[lines[len(lines)-1]]
	source := Source{}
	if e.Source != nil {
		source = *e.Source
	}
	return l.sum == e.SHA256 && l.madeBy == madeBy(e.Version, e.Settings) && source.Path == l.source.Path && source.SHA256 == l.source.SHA256
}

// add notes down that a file is about to be made.
func (r *record) add(e *Entry) (line int, err error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	text, err := report.JSONLine(e)
	if err != nil {
		return 0, err
	}
	if err := r.goOn(); err != nil {
		return 0, err
	}
	// Not synced: after a failure of the power a file is at worst taken for somebody
	// else's.
	if _, err := r.journal.Write(text); err != nil {
		return 0, err
	}
	line = r.index(e, 0, len(text))
	r.parts[0].size += int64(len(text))
	r.untidy = true
	return line, nil
}

// place notes down that the file of a line is in its place.
func (r *record) place(line int) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.lines[line].placed = true
}

// goOn opens the record's own file, taken and read, to be written at its end.
func (r *record) goOn() error {
	if r.journal != nil {
		return nil
	}
	if err := r.make(); err != nil {
		return err
	}
	file, err := os.OpenFile(r.path(), os.O_RDWR|os.O_APPEND|openWithoutWaiting, 0)
	if err != nil {
		return err
	}
	last := make([]byte, 1)
	if n, _ := file.ReadAt(last, r.parts[0].size-1); n == 1 && last[0] != '\n' {
		n, err = file.WriteString("\n") // a killed run did not end its line
		r.parts[0].size += int64(n)
	}
	r.journal = file
	return err
}

// make makes the record's own file, if it is not there, and takes it.
func (r *record) make() error {
	for r.release == nil {
		if err := notPlain(r.path()); err != nil {
			return err
		}
		file, err := os.OpenFile(r.path(), os.O_RDWR|os.O_CREATE|openWithoutWaiting, 0o666)
		if err != nil {
			return err
		}
		file.Close()
		if err := r.take(); err != nil {
			return err
		}
	}
	return nil
}

// knows tells whether a line is of a source.
func (r *record) knows(path string) bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	return len(r.bySource[path]) > 0
}

// sumOf is the SHA-256 of a source by its quick sum, "" where no line says it.
func (r *record) sumOf(of Source) string {
	r.mu.Lock()
	defer r.mu.Unlock()
	for _, n := range slices.Backward(r.bySource[of.Path]) {
		if l := &r.lines[n]; l.source.Quick == of.Quick {
			return l.source.SHA256
		}
	}
	return ""
}

// all are the newest entries of the files that were made of a source of that sum in
// the same way, the newest first.
func (r *record) all(of Source, madeBy string) []Entry {
	r.mu.Lock()
	defer r.mu.Unlock()
	var entries []Entry
	known := map[string]bool{}
	for _, n := range slices.Backward(r.bySource[of.Path]) {
		l := &r.lines[n]
		if l.source.SHA256 != of.SHA256 || l.madeBy != madeBy || known[l.file] {
			continue
		}
		known[l.file] = true
		var e Entry
		if text, err := r.text(l); err == nil && json.Unmarshal(text, &e) == nil {
			entries = append(entries, e)
		}
	}
	return entries
}

// others are the files that the sources given were made into with other settings and
// not with these.
func (r *record) others(sources []string, madeBy string) []string {
	r.mu.Lock()
	defer r.mu.Unlock()
	wanted := map[string]bool{}
	for _, source := range sources {
		wanted[source] = true
	}
	var others []string
	for file, lines := range r.ours {
		newest := &r.lines[lines[len(lines)-1]]
		if wanted[newest.source.Path] && newest.madeBy != madeBy {
			others = append(others, file)
		}
	}
	slices.Sort(others)
	return others
}

// files are the names of all files that the command made.
func (r *record) files() []string {
	r.mu.Lock()
	defer r.mu.Unlock()
	return slices.Sorted(maps.Keys(r.ours))
}

// text reads a line whole.
func (r *record) text(l *recordLine) ([]byte, error) {
	part := &r.parts[l.part]
	if part.file == nil {
		file, err := os.Open(filepath.Join(r.dir, part.name))
		if err != nil {
			return nil, err
		}
		part.file = file
	}
	text := make([]byte, l.length)
	_, err := part.file.ReadAt(text, l.offset)
	return text, err
}

// letGo closes what is open and gives the lock back.
func (r *record) letGo() {
	for i := range r.parts {
		if r.parts[i].file != nil {
			r.parts[i].file.Close()
			r.parts[i].file = nil
		}
	}
	if r.journal != nil {
		r.journal.Close()
		r.journal = nil
	}
	if r.release != nil {
		r.release()
		r.release = nil
	}
}
