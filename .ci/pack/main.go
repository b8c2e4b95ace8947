// Command pack puts files into an archive that is the same bytes on every run: no clock,
// no owner, the files in the order given, in one folder. A name that ends in .zip is a zip
// archive, any other a gzipped tar.
// usage: pack ARCHIVE FOLDER FILE…
package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"strings"
	"time"
)

func main() {
	if len(os.Args) < 4 {
		fmt.Fprintln(os.Stderr, "usage: pack ARCHIVE FOLDER FILE…")
		os.Exit(2)
	}
	if err := pack(os.Args[1], os.Args[2], os.Args[3:]); err != nil {
		fmt.Fprintln(os.Stderr, "pack:", err)
		os.Exit(1)
	}
}

func pack(archive, folder string, files []string) error {
	var packed bytes.Buffer
	to := packer(zipped{zip.NewWriter(&packed)})
	if !strings.HasSuffix(archive, ".zip") {
		squeezed, _ := gzip.NewWriterLevel(&packed, gzip.BestCompression) // a level that there is
		to = tarball{tar.NewWriter(squeezed), squeezed}
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		name := filepath.Base(file)
		if err := to.add(path.Join(folder, name), modeOf(name), data); err != nil {
			return err
		}
	}
	if err := to.Close(); err != nil {
		return err
	}
	return os.WriteFile(archive, packed.Bytes(), 0o666)
}

// modeOf is that of a program for a file without an ending, or for Windows.
func modeOf(name string) int64 {
	if ext := filepath.Ext(name); ext == "" || ext == ".exe" {
		return 0o755
	}
	return 0o644
}

// packer is an archive in the making.
type packer interface {
	add(name string, mode int64, data []byte) error
	io.Closer
}

type tarball struct {
	*tar.Writer
	packed io.Closer
}

func (t tarball) add(name string, mode int64, data []byte) error {
	header := tar.Header{Name: name, Mode: mode, Size: int64(len(data)), Format: tar.FormatUSTAR}
	if err := t.WriteHeader(&header); err != nil {
		return err
	}
	_, err := t.Write(data)
	return err
}

func (t tarball) Close() error { return errors.Join(t.Writer.Close(), t.packed.Close()) }

// first is the first day that a zip archive knows.
var first = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

type zipped struct{ *zip.Writer }

func (z zipped) add(name string, mode int64, data []byte) error {
	header := zip.FileHeader{Name: name, Method: zip.Deflate, Modified: first}
	header.SetMode(os.FileMode(mode))
	entry, err := z.CreateHeader(&header)
	if err != nil {
		return err
	}
	_, err = entry.Write(data)
	return err
}
