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
	var err error
	if strings.HasSuffix(archive, ".zip") {
		err = packZip(&packed, folder, files)
	} else {
		err = packTar(&packed, folder, files)
	}
	if err != nil {
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

func packTar(to io.Writer, folder string, files []string) error {
	zipped, err := gzip.NewWriterLevel(to, gzip.BestCompression)
	if err != nil {
		return err
	}
	w := tar.NewWriter(zipped)
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		name := filepath.Base(file)
		header := tar.Header{Name: path.Join(folder, name), Mode: modeOf(name), Size: int64(len(data)), Format: tar.FormatUSTAR}
		if err := w.WriteHeader(&header); err != nil {
			return err
		}
		if _, err := w.Write(data); err != nil {
			return err
		}
	}
	if err := w.Close(); err != nil {
		return err
	}
	return zipped.Close()
}

// first is the first day that a zip archive knows.
var first = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

func packZip(to io.Writer, folder string, files []string) error {
	w := zip.NewWriter(to)
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		name := filepath.Base(file)
		header := zip.FileHeader{Name: path.Join(folder, name), Method: zip.Deflate, Modified: first}
		header.SetMode(os.FileMode(modeOf(name)))
		entry, err := w.CreateHeader(&header)
		if err != nil {
			return err
		}
		if _, err := entry.Write(data); err != nil {
			return err
		}
	}
	return w.Close()
}
