package files

import (
	"errors"
	"io/fs"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

var errBusy = errors.New("another program has it open")

// busyDisk has its files open elsewhere for some tries.
// A file that is open elsewhere is waited for: a moment, then longer, then no more. The
// clock is the test's.
func TestPatience(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		left, tries int
		err, want   error
		least, most time.Duration
	}{
		{0, 1, nil, nil, 0, 0},
		{2, 3, errBusy, nil, 10 * time.Millisecond, 20 * time.Millisecond},
		{8, 9, errBusy, nil, 900 * time.Millisecond, time.Second},
		{99, 13, errBusy, errBusy, 2 * time.Second, 3 * time.Second}, // no longer
		{99, 1, fs.ErrNotExist, fs.ErrNotExist, 0, 0},
	} {
		for what, do := range map[string]func(Disk) error{
			"rename": func(d Disk) error { return d.Rename("a", "b") },
			"remove": func(d Disk) error { return d.Remove("a") },
		} {
			disk := &busyDisk{left: row.left, err: row.err}
			var waited time.Duration
			err := do(Patiently(disk, func(err error) bool { return errors.Is(err, errBusy) }, func(d time.Duration) { waited += d }))
			assert.ErrorIs(t, err, row.want, "%s: %v", what, row)
			if row.want == errBusy {
				assert.EqualError(t, err, "another program has it open, or it is protected against being changed; close it there and run it again")
			}
			assert.Equal(t, row.tries, disk.tries, "%s: %v", what, row)
			assert.True(t, row.least <= waited && waited <= row.most, "%s: %v: waited %s", what, row, waited)
		}
	}
}

type busyDisk struct {
	Disk
	left  int   // tries that fail
	err   error // with this
	tries int
}

func (d *busyDisk) Rename(_, _ string) error { return d.try() }
func (d *busyDisk) Remove(string) error      { return d.try() }

func (d *busyDisk) try() error {
	d.tries++
	if d.left--; d.left >= 0 {
		return d.err
	}
	return nil
}
