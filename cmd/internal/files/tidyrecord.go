package files

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"deskpart/cmd/internal/report"
)

// close puts the record in order, a line for each file that is still there, and lets
// it go. A record of nothing is taken away. The same files made in the same way leave the same record.
func (r *record) close() error {
	r.mu.Lock()
	defer r.mu.Unlock()
	defer r.letGo()
	if r.release == nil { // there is none
		return nil
	}
	merged := r.mergeable()
	if !r.untidy && len(merged) == 0 {
		return nil
	}
	switch err := r.rewrite(merged); {
	case isBusy(err): // another run has taken it, which puts it in order when it ends
		return nil
	case err != nil:
		return report.NewOutputError(r.path(), err)
	}
	r.untidy = false
	for _, part := range merged {
		at := filepath.Join(r.dir, r.parts[part].name)
		if err := r.disk.Remove(at); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return report.NewOutputError(at, err)
		}
	}
	return nil
}

// forget lets the record go without the lines of this command: a manifest stands for
// the files from now on.
func (r *record) forget() error {
	r.forgotten, r.untidy = true, true
	return r.close()
}

// mergeable are the records of slices that a run over the whole list takes in: those
// that no run is at work on.
func (r *record) mergeable() []int {
	var merged []int
	if r.making.Shard.N > 1 {
		return nil
	}
	for part := 1; part < len(r.parts); part++ {
		if release, err := tryLock(filepath.Join(r.dir, r.parts[part].name), os.O_RDWR); err == nil {
			release()
			merged = append(merged, part)
		}
	}
	return merged
}

// rewrite puts the lines that count, in order, in the place of the old ones.
func (r *record) rewrite(merged []int) error {
	lines := r.settled(merged)
	write := func(w io.Writer) error { return r.writeLines(w, lines) }
	if openIsInUse { // an open file is neither replaced nor removed there
		var text bytes.Buffer
		if err := write(&text); err != nil {
			return err
		}
		r.letGo()
		write = whole(text.Bytes())
	}
	if len(lines) == 0 {
		return r.disk.Remove(r.path())
	}
	return NewOutputOn(r.disk, *r.making).Folder(r.dir).replace(r.path(), write)
}

func (r *record) writeLines(w io.Writer, lines []int) error {
	buffered := bufio.NewWriter(w)
	for _, n := range lines {
		text, err := r.text(&r.lines[n])
		if err != nil {
			return err
		}
		buffered.Write(text) // Flush gives its error
	}
	return buffered.Flush()
}

// settled are the lines that count, in order.
func (r *record) settled(merged []int) []int {
	byFile := map[string][]int{}
	for n := range r.lines {
		l := &r.lines[n]
		forgotten := r.forgotten && l.command == r.making.Command
		if !forgotten && (l.part == 0 || slices.Contains(merged, l.part)) {
			byFile[l.key()] = append(byFile[l.key()], n)
		}
	}
	var kept []int
	for _, lines := range byFile {
		first := &r.lines[lines[0]]
		at := filepath.Join(r.dir, filepath.FromSlash(first.file))
		if _, err := os.Lstat(at); err == nil || first.sum == "" {
			kept = append(kept, r.standing(at, lines))
		}
	}
	slices.SortFunc(kept, func(a, b int) int { return strings.Compare(r.lines[a].key(), r.lines[b].key()) })
	return kept
}

// standing is the line of the bytes that stand in a file, of several that it had: a
// run may have been killed before it put its own there, or have found other bytes
// than it noted down.
func (r *record) standing(at string, lines []int) int {
	newest := lines[len(lines)-1]
	if len(lines) == 1 || r.lines[newest].placed {
		return newest
	}
	sum, err := sumFile(at)
	if err != nil {
		return newest
	}
	for _, n := range slices.Backward(lines) {
		if r.lines[n].sum == sum {
			return n
		}
	}
	return newest
}
