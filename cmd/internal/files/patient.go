package files

import (
	"time"

	"deskpart/musicxml"
)

// Patiently is a disk that waits a little for files that another program has open, where
// an open file cannot be replaced or removed (Windows). busy tells that an error is of that
// kind, sleep lets the time go by.
func Patiently(disk Disk, busy func(error) bool, sleep func(time.Duration)) Disk {
	return patient{disk, busy, sleep}
}

type patient struct {
	Disk
	busy  func(error) bool
	sleep func(time.Duration)
}

// firstPause is doubled up to mostPause; after so many pauses, 2.2 seconds in all, it is
// given up. Programs that look for viruses or make copies have a file
// for less.
const firstPause, mostPause, pauses = 5 * time.Millisecond, 320 * time.Millisecond, 12

func (p patient) Rename(from, to string) error {
	return p.try(func() error { return p.Disk.Rename(from, to) })
}

func (p patient) Remove(path string) error {
	return p.try(func() error { return p.Disk.Remove(path) })
}

func (p patient) try(do func() error) error {
	err := do()
	for n, pause := 0, firstPause; n < pauses && p.busy(err); n, pause = n+1, min(2*pause, mostPause) {
		p.sleep(pause)
		err = do()
	}
	if p.busy(err) {
		return &musicxml.Error{Err: openElsewhere{err}, Hint: "close it there and run it again"}
	}
	return err
}

// openElsewhere says what the system calls a denied access, too.
type openElsewhere struct{ error }

func (openElsewhere) Error() string {
	return "another program has it open, or it is protected against being changed"
}

func (e openElsewhere) Unwrap() error { return e.error }
