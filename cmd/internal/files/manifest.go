package files

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"io"
	"os"
	"path/filepath"

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

// UpToDate returns the folder's manifest if nothing is left to do there: the
// same tool and version made it, of the same source with the same settings, and
// every file it names is there with the bytes it had. want needs no parts. A
// folder that nothing is written to is here rid of what dead runs left in it.
func (o *Output) UpToDate(dir string, want report.Manifest) (*report.Manifest, bool) {
	sweep(dir)
	have, err := ReadManifest(dir)
	if err != nil || !have.SameRun(want) {
		return nil, false
	}
	for name, sum := range have.Sums() {
		if !filepath.IsLocal(name) {
			return nil, false
		}
		if got, err := sumFile(filepath.Join(dir, name)); err != nil || got != sum {
			return nil, false
		}
	}
	o.forgetLeft(dir)
	return have, true
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

// sumFile is Sum of a regular file's content, read in pieces.
func sumFile(path string) (string, error) {
	file, err := os.OpenFile(path, os.O_RDONLY|openWithoutWaiting, 0)
	if err != nil {
		return "", err
	}
	defer file.Close()
	if info, err := file.Stat(); err != nil || !info.Mode().IsRegular() {
		return "", os.ErrInvalid
	}
	hash := sha256.New()
	if _, err := io.Copy(hash, file); err != nil {
		return "", err
	}
	return hex.EncodeToString(hash.Sum(nil)), nil
}
