package files

import (
	"context"
	"crypto/sha256"
	"crypto/sha512"
	"errors"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
)

// BagPayload is the folder of a bag that holds its files (RFC 8493, 2.1.2).
const BagPayload = "data"

// bagDeclared is the file by which a folder declares itself a bag (RFC 8493, 2.1.1).
const bagDeclared = "bagit.txt"

const bagDeclaration = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n" // RFC 8493, 2.1.1

// bagHashes are the checksums of a bag, strongest first: RFC 8493, 2.4 asks for
// SHA-512, and SHA-256 is what most other tools keep.
var bagHashes = []struct {
	name string
	make func() hash.Hash
}{{"sha512", sha512.New}, {"sha256", sha256.New}}

// BagField is a line of bag-info.txt, such as {"Bag-Software-Agent", "deskpart 1.0"}.
type BagField struct{ Label, Value string }

// WriteBag makes the folder dir, whose files are in dir/data, a bag that can be
// checked for completeness and damage (BagIt 1.0, RFC 8493): declaration,
// bag-info.txt with the number of bytes and files besides the fields given, and
// manifests of the files and of the bag's own lists, each in SHA-512 and SHA-256. The
// record of what was made of what is one of the lists; it is closed by this.
// No date is written, so that the same files make the same bag. It reports
// whether anything had to be written; stopped half-way, it can be run again.
func WriteBag(ctx context.Context, pool *run.Pool, o *Output, dir string, fields []BagField) (wrote bool, err error) {
	payload, err := bagFiles(o, dir)
	if err != nil {
		return false, err
	}
	rows, err := sumFiles(ctx, pool, dir, payload)
	if err != nil {
		return false, err
	}
	tags := []bagFile{{name: bagDeclared, data: []byte(bagDeclaration)}, {name: "bag-info.txt", data: bagInfo(rows, fields)}}
	tags = append(tags, bagManifests("manifest", rows)...)
	if err := o.claimTags(dir, tags); err != nil {
		return false, err
	}
	tagRows, err := recordRows(dir)
	if err != nil {
		return false, err
	}
	for _, tag := range tags {
		tagRows = append(tagRows, tag.row())
	}
	slices.SortFunc(tagRows, func(a, b bagRow) int { return strings.Compare(a.name, b.name) })
	tags = append(tags, bagManifests(tagManifest, tagRows)...) // last: they vouch for the rest
	folder := o.Folder(dir)
	for _, tag := range tags {
		changed, err := folder.writeTag(tag)
		if err != nil {
			return wrote, err
		}
		wrote = wrote || changed
	}
	return wrote, folder.Sync()
}

// writeTag writes one of the bag's own lists, which the record has already.
func (f *Folder) writeTag(tag bagFile) (wrote bool, err error) {
	path := filepath.Join(f.dir, tag.name)
	if err := notPlain(path); err != nil {
		return false, err
	}
	if info, err := os.Lstat(path); err == nil && holds(path, info, tag.data) {
		return false, nil
	}
	if err := f.replace(path, whole(tag.data)); err != nil {
		return false, report.NewOutputError(path, err)
	}
	f.dirty.Store(true)
	return true, nil
}

// tagManifest is the beginning of the names of the manifests of the bag's own lists.
const tagManifest = "tagmanifest"

// claimTags makes sure that the bag's own lists may be written, notes them down in the
// record, whatever is in them, and puts the record in order, so that they can vouch
// for it.
func (o *Output) claimTags(dir string, tags []bagFile) error {
	folder := o.Folder(dir)
	names := make([]string, 0, len(tags)+len(bagHashes))
	for _, tag := range tags {
		if _, err := folder.mayReplace(tag.name, filepath.Join(dir, tag.name), tag.data); err != nil {
			return err
		}
		names = append(names, tag.name)
	}
	for _, kind := range bagHashes {
		names = append(names, tagManifest+"-"+kind.name+".txt")
	}
	for _, name := range names {
		if err := folder.noteAnything(name); err != nil {
			return err
		}
	}
	return o.Close()
}

// noteAnything notes down a file whatever will be in it.
func (f *Folder) noteAnything(name string) error {
	r, below, err := f.output.recordOf(f.dir, name)
	if err != nil {
		return report.NewOutputError(f.dir, err)
	}
	m := &f.output.making
	e := &Entry{File: below, Command: m.Command, Version: m.Version, Settings: m.Settings}
	if r.has(e) {
		return nil
	}
	if _, err = r.add(e); err != nil {
		return report.NewOutputError(f.dir, err)
	}
	return nil
}

// recordRows are the records in the bag, which are some of its lists.
func recordRows(dir string) ([]bagRow, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, report.NewOutputError(dir, report.ReadingError(err))
	}
	var rows []bagRow
	for _, entry := range entries {
		if !entry.Type().IsRegular() || !isRecordName(entry.Name()) {
			continue
		}
		row, err := sumPayload(dir, entry.Name())
		if err != nil {
			return nil, err
		}
		rows = append(rows, row)
	}
	return rows, nil
}

// bagFile is one of the bag's own lists.
type bagFile struct {
	name string
	data []byte
}

func (f bagFile) row() bagRow {
	row := bagRow{name: f.name, size: int64(len(f.data))}
	for _, kind := range bagHashes {
		sum := kind.make()
		sum.Write(f.data)
		row.sums = append(row.sums, sum.Sum(nil))
	}
	return row
}

// bagRow is a file of the bag: its path below the bag, size and checksums.
type bagRow struct {
	name string
	size int64
	sums [][]byte
}

// bagFiles lists the payload, as paths below dir with forward slashes, byte by byte.
func bagFiles(o *Output, dir string) ([]string, error) {
	var files []string
	err := filepath.WalkDir(filepath.Join(dir, BagPayload), func(at string, entry fs.DirEntry, err error) error {
		if err != nil {
			return report.NewOutputError(at, report.ReadingError(err))
		}
		if entry.IsDir() {
			o.Folder(at) // rids it of what dead runs left
			return nil
		}
		if !entry.Type().IsRegular() {
			return report.NewOutputError(at, errors.New("a bag holds files and folders alone; move this away"))
		}
		below, err := filepath.Rel(dir, at)
		files = append(files, filepath.ToSlash(below))
		return err
	})
	slices.Sort(files)
	return files, err
}

// sumFiles reads each file once for all its checksums.
func sumFiles(ctx context.Context, pool *run.Pool, dir string, files []string) ([]bagRow, error) {
	rows := make([]bagRow, 0, len(files))
	err := run.All(ctx, pool, files, run.Work[string, bagRow]{
		Do: func(_ context.Context, _ *run.Worker, name string) (bagRow, error) {
			return sumPayload(dir, name)
		},
		Deliver: func(r run.Result[string, bagRow]) error {
			rows = append(rows, r.Value)
			return r.Err
		},
	})
	return rows, err
}

func sumPayload(dir, name string) (bagRow, error) {
	at := filepath.Join(dir, filepath.FromSlash(name))
	if isTempName(path.Base(name)) {
		return bagRow{}, report.NewOutputError(at, errors.New("another run is writing here; make the bag when it has ended"))
	}
	file, err := os.OpenFile(at, os.O_RDONLY|openWithoutWaiting, 0)
	if err != nil {
		return bagRow{}, report.NewOutputError(at, report.ReadingError(err))
	}
	defer file.Close()
	var sums []hash.Hash
	var writers []io.Writer
	for _, kind := range bagHashes {
		sum := kind.make()
		sums, writers = append(sums, sum), append(writers, sum)
	}
	row := bagRow{name: name}
	if row.size, err = io.Copy(io.MultiWriter(writers...), file); err != nil {
		return bagRow{}, report.NewOutputError(at, report.ReadingError(err))
	}
	for _, sum := range sums {
		row.sums = append(row.sums, sum.Sum(nil))
	}
	return row, nil
}

// bagManifests are the checksum lists of rows, one for each kind of checksum
// (RFC 8493, 2.1.3 and 2.2.1).
func bagManifests(prefix string, rows []bagRow) []bagFile {
	var files []bagFile
	for i, kind := range bagHashes {
		var b strings.Builder
		for _, row := range rows {
			fmt.Fprintf(&b, "%x  %s\n", row.sums[i], bagPath.Replace(row.name))
		}
		files = append(files, bagFile{prefix + "-" + kind.name + ".txt", []byte(b.String())})
	}
	return files
}

// bagPath encodes the characters that a line of a manifest cannot hold, and the
// sign that encodes (RFC 8493, 2.1.3).
var bagPath = strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A")

// bagInfo is bag-info.txt: the fields and the payload's size as bytes.files
// (RFC 8493, 2.2.2). A field's line ends become spaces.
func bagInfo(rows []bagRow, fields []BagField) []byte {
	var size int64
	for _, row := range rows {
		size += row.size
	}
	var b strings.Builder
	for _, field := range fields {
		fmt.Fprintf(&b, "%s: %s\n", field.Label, strings.Join(strings.Fields(field.Value), " "))
	}
	fmt.Fprintf(&b, "Payload-Oxum: %d.%d\n", size, len(rows))
	return []byte(b.String())
}
