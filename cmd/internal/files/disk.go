package files

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
)

// Disk is what Output does to a disk, so that a test can fill it or stop it at
// any step.
type Disk interface {
	// Create makes a new file in the folder, under a name that nobody else has,
	// and marks it as being in use for as long as it is open.
	Create(folder string) (TempFile, error)
	// Rename puts the file in the place of whatever has that name.
	Rename(from, to string) error
	// Remove removes a file or an empty folder.
	Remove(path string) error
	// MakeFolder makes one folder.
	MakeFolder(path string) error
	// SyncFolder waits until the folder's names are safe on the disk.
	SyncFolder(path string) error
}

// TempFile is a file that is being written.
type TempFile interface {
	io.Writer
	Name() string
	Sync() error
	Close() error
}

// Names of temporary files begin with a dot, so that nothing mistakes them for a
// result, and carry random letters, so that two runs in one folder never meet.
const (
	tempPrefix = ".deskpart-"
	tempSuffix = ".tmp"
)

func isTempName(name string) bool {
	return strings.HasPrefix(name, tempPrefix) && strings.HasSuffix(name, tempSuffix)
}

// systemDisk is the disk of this machine.
type systemDisk struct{}

// Create locks the file as soon as it is there. A sweep that comes in between
// takes it for a dead run's, so the file is looked for again afterwards.
func (systemDisk) Create(folder string) (TempFile, error) {
	for {
		file, err := os.OpenFile(tempName(folder), os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return nil, err
		}
		locked := &lockedFile{File: file, release: func() {}}
		if openIsInUse {
			return locked, nil
		}
		release, err := tryLock(file.Name(), os.O_RDWR)
		switch {
		case err == nil:
			locked.release = release
			return locked, nil
		case errors.Is(err, errNoLocks):
			return locked, nil
		}
		file.Close()
	}
}

// lockedFile is in use until it is closed.
type lockedFile struct {
	*os.File
	release func()
}

func (f *lockedFile) Close() error {
	defer f.release()
	return f.File.Close()
}

func tempName(folder string) string {
	var letters [8]byte
	rand.Read(letters[:]) // never fails (crypto/rand)
	return filepath.Join(folder, tempPrefix+hex.EncodeToString(letters[:])+tempSuffix)
}

func (systemDisk) Rename(from, to string) error { return os.Rename(from, to) }

func (systemDisk) Remove(path string) error { return os.Remove(path) }

func (systemDisk) MakeFolder(path string) error { return os.Mkdir(path, 0o777) }

// SyncFolder takes it for done where a system cannot sync a folder.
func (systemDisk) SyncFolder(path string) error {
	folder, err := os.Open(path)
	if err != nil {
		return err
	}
	defer folder.Close()
	err = folder.Sync()
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, errors.ErrUnsupported) || syncNeedsWriter {
		return nil
	}
	return err
}

// sweep removes the temporary files that runs left in the folder when they were
// killed. A file that a living run has in use is locked and is left alone, as is
// every file where locks are not to be had. What cannot be removed is left: the
// next write says what is wrong with the folder.
func sweep(folder string) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return
	}
	for _, entry := range entries {
		if isTempName(entry.Name()) && entry.Type().IsRegular() {
			removeIfDead(filepath.Join(folder, entry.Name()))
		}
	}
}

func removeIfDead(path string) {
	if !openIsInUse {
		release, err := tryLock(path, os.O_RDWR)
		if err != nil {
			return
		}
		defer release()
	}
	os.Remove(path)
}
