package musicxml

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"path"
	"regexp"
	"slices"
	"strings"

	"deskpart/musicxml/notice"
)

// File is a file in a container.
type File struct {
	Name      string // path inside the container, with slashes
	MediaType string // as META-INF/container.xml lists it; "" when not listed
	Data      []byte
}

// Names and types that the standard gives a container (MusicXML 4.0, container).
const (
	containerList = "META-INF/container.xml"
	containerType = "application/vnd.recordare.musicxml"
	scoreType     = "application/vnd.recordare.musicxml+xml"
	typeFile      = "mimetype"
)

// isContainer tells by content whether a file is a zip archive, an empty one
// included.
func isContainer(data []byte) bool {
	return bytes.HasPrefix(data, []byte("PK\x03\x04")) || bytes.HasPrefix(data, []byte("PK\x05\x06"))
}

// container is an opened archive.
type container struct {
	files   []*zip.File // without folders
	limits  Limits
	left    int64 // bytes that may still be unpacked
	root    *zip.File
	start   []byte            // the beginning of the root
	listed  map[string]string // media types by name, as the container lists them
	names   []map[string]*zip.File
	buffers func(n int) []byte
}

// open opens the container, notes its other files, and returns its score.
func (s *Score) open(data []byte, o ReadOptions) ([]byte, error) {
	c, err := openContainer(data, s.limits)
	if err != nil {
		return nil, err
	}
	c.buffers = s.take
	root, err := c.findRoot()
	if err != nil {
		return nil, err
	}
	s.Compressed, s.RootName = true, insideName(root.Name)
	text, err := c.read(root)
	if err != nil || o.SkipFiles {
		return text, err
	}
	s.Files, err = c.others()
	return text, err
}

// openContainer opens an archive and checks its size against the limits before
// anything is unpacked.
func openContainer(data []byte, limits Limits) (*container, error) {
	return openArchive(bytes.NewReader(data), int64(len(data)), limits)
}

func openArchive(r io.ReaderAt, size int64, limits Limits) (*container, error) {
	archive, err := zip.NewReader(r, size)
	if err != nil && !errors.Is(err, zip.ErrInsecurePath) {
		return nil, damaged(err)
	}
	c := &container{limits: limits, left: limits.ExpandedBytes, listed: map[string]string{}}
	c.buffers = func(n int) []byte { return make([]byte, 0, n) }
	if len(archive.File) > limits.Entries {
		return nil, &Error{Code: notice.TooLarge, Hint: raiseLimit, Err: fmt.Errorf("the archive has more than %d files", limits.Entries)}
	}
	for _, f := range archive.File {
		if leadsOut(f.Name) {
			return nil, &Error{Code: notice.UnsafeArchive, Err: fmt.Errorf("the name %s in the archive leads out of it", quote(f.Name))}
		}
		if !strings.HasSuffix(f.Name, "/") {
			c.files = append(c.files, f)
		}
	}
	return c, nil
}

func damaged(err error) error {
	return &Error{Code: notice.DamagedArchive, Hint: "fetch or export it again", Err: fmt.Errorf("the compressed file is damaged: %w", err)}
}

// read unpacks one file.
func (c *container) read(f *zip.File) ([]byte, error) {
	limit, err := c.allowance(f)
	if err != nil {
		return nil, err
	}
	r, err := openEntry(f)
	if err != nil {
		return nil, err
	}
	defer r.Close()
	data, err := fillFrom(r, c.buffers(int(min(limit, int64(f.UncompressedSize64))+1)), limit)
	if err != nil {
		return nil, unpackError(err)
	}
	c.left -= int64(len(data))
	return data, nil
}

// openEntry opens a file of an archive for unpacking.
func openEntry(f *zip.File) (io.ReadCloser, error) {
	const encrypted = 1 // bit 0 of the general purpose flag (zip, 4.4.4)
	switch {
	case f.Flags&encrypted != 0:
		return nil, &Error{Code: notice.Encrypted, Hint: "unpack it with its password first", Err: fmt.Errorf("%s in the archive is encrypted", quote(f.Name))}
	case f.Method != zip.Store && f.Method != zip.Deflate:
		return nil, &Error{Code: notice.DamagedArchive, Hint: "pack it again as a plain zip archive", Err: fmt.Errorf("%s in the archive is packed in a way not known here", quote(f.Name))}
	}
	r, err := f.Open()
	if err != nil {
		return nil, damaged(err)
	}
	return r, nil
}

func unpackError(err error) error {
	if ErrorCode(err) == notice.TooLarge {
		return &Error{Code: notice.TooLarge, Hint: raiseLimit, Err: errors.New("the archive unpacks to more than it says, or than is allowed")}
	}
	return damaged(errors.Unwrap(err))
}

// allowance returns how many bytes a file may unpack to. What it says of itself
// is checked first, and never believed.
func (c *container) allowance(f *zip.File) (int64, error) {
	const small = 1 << 20 // whatever its ratio
	limit := c.left
	if packed := f.CompressedSize64; packed < math.MaxInt64/uint64(c.limits.Ratio) {
		limit = min(limit, max(small, int64(packed)*int64(c.limits.Ratio)))
	}
	if f.UncompressedSize64 > uint64(limit) {
		return 0, &Error{Code: notice.TooLarge, Hint: raiseLimit, Err: fmt.Errorf("%s in the archive unpacks to %d bytes, which is more than allowed", quote(f.Name), f.UncompressedSize64)}
	}
	return limit, nil
}

// others unpacks the files beside the score.
func (c *container) others() (files []File, err error) {
	c.buffers = func(n int) []byte { return make([]byte, 0, n) }
	for _, f := range c.files {
		if f == c.root || f.Name == typeFile || strings.EqualFold(f.Name, containerList) {
			continue
		}
		data, err := c.read(f)
		if err != nil {
			return nil, err
		}
		files = append(files, File{Name: insideName(f.Name), MediaType: c.listed[f.Name], Data: data})
	}
	return files, nil
}

// drive is the beginning of a path from the root of a disk, on systems that name disks.
var drive = regexp.MustCompile(`^[A-Za-z]:`)

// leadsOut reports whether a path would leave the folder that an archive is unpacked to,
// on any system: no honest archive has such a name.
func leadsOut(name string) bool {
	return strings.HasPrefix(name, "/") || strings.ContainsAny(name, "\\\x00") || drive.MatchString(name) ||
		slices.Contains(strings.Split(name, "/"), "..")
}

// insideName is the name of a file that does not lead out as it may be written again.
func insideName(name string) string {
	return strings.ReplaceAll(path.Clean(strings.ToValidUTF8(name, "_")), ":", "_")
}

// isInside reports whether a path stays below its folder on every system.
func isInside(name string) bool {
	return fs.ValidPath(name) && name != "." && !strings.ContainsAny(name, "\\:\x00") && path.Clean(name) == name
}

// head returns the beginning of a file, for telling what it is.
func head(f *zip.File) ([]byte, error) {
	const long = 64 << 10
	r, err := openEntry(f)
	if err != nil {
		return nil, err
	}
	defer r.Close()
	start := make([]byte, min(long, f.UncompressedSize64))
	if _, err := io.ReadFull(r, start); err != nil {
		return nil, damaged(err)
	}
	return start, nil
}
