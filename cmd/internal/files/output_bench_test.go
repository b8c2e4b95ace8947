//go:build linux

package files

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strconv"
	"sync"
	"testing"
)

// unsyncedDisk leaves out what makes files safe against a failing power supply,
// to show what that costs.
type unsyncedDisk struct{ Disk }

func (d unsyncedDisk) Create(folder string) (TempFile, error) {
	file, err := d.Disk.Create(folder)
	return unsyncedFile{file}, err
}
func (unsyncedDisk) SyncFolder(string) error { return nil }

type unsyncedFile struct{ TempFile }

func (unsyncedFile) Sync() error { return nil }

// BenchmarkScores writes ten scores of 30 parts of 100 KiB, as extract does (one
// folder sync a score) and in other ways.
func BenchmarkScores(b *testing.B) {
	data := bytes.Repeat([]byte("0123456789abcdef"), 100<<6)
	for _, c := range []struct {
		name    string
		disk    Disk
		each    bool // a folder sync for every file
		workers int
	}{
		{"without sync", unsyncedDisk{systemDisk{}}, false, 1},
		{"one folder sync a score", systemDisk{}, false, 1},
		{"one folder sync a score, two workers", systemDisk{}, false, 2},
		{"one folder sync a score, eight workers", systemDisk{}, false, 8},
		{"one folder sync a file", systemDisk{}, true, 1},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.SetBytes(300 * int64(len(data)))
			for b.Loop() {
				dir := b.TempDir()
				o := NewOutputOn(c.disk, trial)
				for score := range 10 {
					folder := o.Folder(filepath.Join(dir, strconv.Itoa(score)))
					var workers sync.WaitGroup
					for w := range c.workers {
						workers.Go(func() {
							for part := w; part < 30; part += c.workers {
								if _, err := folder.Write(fmt.Sprint(part), data, Origin{}); err != nil {
									b.Error(err)
								}
								if c.each {
									folder.Sync()
								}
							}
						})
					}
					workers.Wait()
					folder.Sync()
				}
				o.Close()
			}
		})
	}
}
