package files

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"sync"

	"github.com/cespare/xxhash/v2"

	"deskpart/cmd/internal/report"
)

// ReadManifest reads the manifest of a folder.
func ReadManifest(dir string) (*report.Manifest, error) {
	data, err := ReadInput(filepath.Join(dir, report.ManifestName), 0, nil)
	if err != nil {
		return nil, err
	}
	m := new(report.Manifest)
	if err := json.Unmarshal(data, m); err != nil {
		return nil, err
	}
	return m, nil
}

// UpToDate tells by a folder's manifest, nil without, whether nothing is left to do
// there: the same tool and version made it, of the same source with the same settings,
// and every file it names is there with the bytes it had. want needs no parts. A
// folder that nothing is written to is here rid of what dead runs left in it.
func (o *Output) UpToDate(dir string, have *report.Manifest, want report.Manifest) bool {
	sweep(dir)
	if have == nil || !have.SameRun(want) {
		return false
	}
	for name, sum := range have.Sums() {
		if !filepath.IsLocal(name) || !isAsMade(filepath.Join(dir, name), sum, have.QuickSum(name)) {
			return false
		}
	}
	o.forgetLeft(dir)
	return true
}

// forgetLeft tidies the record that a run left in a folder whose manifest it had
// written: nothing in it is wanted any more.
func (o *Output) forgetLeft(dir string) {
	if _, err := os.Lstat(filepath.Join(dir, hiddenRecord)); err != nil {
		return
	}
	r := newRecord(&o.making, o.disk, dir, hiddenRecord)
	ended, end := context.WithCancel(context.Background())
	end()
	r.wait = ended // a run that is at work there tidies it itself
	if r.take() == nil && len(r.ours) > 0 {
		r.forget() // what cannot be tidied does no harm
		return
	}
	r.letGo()
}

// isAsMade tells whether a file has the bytes of a sum: of the quick one where it is
// known.
func isAsMade(path, sum, quick string) bool {
	if quick == "" {
		got, err := sumFile(path)
		return err == nil && got == sum
	}
	return quickSumFile(path) == quick
}

// QuickSum is the quick sum of an input's file, read in pieces; "" where it cannot be
// told without unpacking, or at all.
func QuickSum(in Input) string {
	if in.Inside != "" {
		return ""
	}
	return quickSumFile(in.Path)
}

func quickSumFile(path string) string {
	hash := xxhash.New()
	if hashFile(hash, path) != nil {
		return ""
	}
	return report.QuickSumOf(hash.Sum64())
}

// sumFile is Sum of a regular file's content.
func sumFile(path string) (string, error) {
	hash := sha256.New()
	err := hashFile(hash, path)
	return hex.EncodeToString(hash.Sum(nil)), err
}

// hashed is how much of a file is read at a time, in bytes.
const hashed = 128 << 10

// hashBuffers are used again for file after file.
var hashBuffers = sync.Pool{New: func() any { return new([hashed]byte) }}

// hashFile reads a regular file in pieces.
func hashFile(hash io.Writer, path string) error {
	file, err := os.OpenFile(path, os.O_RDONLY|openWithoutWaiting, 0)
	if err != nil {
		return err
	}
	defer file.Close()
	if info, err := file.Stat(); err != nil || !info.Mode().IsRegular() {
		return os.ErrInvalid
	}
	buffer := hashBuffers.Get().(*[hashed]byte)
	defer hashBuffers.Put(buffer)
	_, err = io.CopyBuffer(hash, struct{ io.Reader }{file}, buffer[:])
	return err
}
