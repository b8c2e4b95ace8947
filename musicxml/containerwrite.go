package musicxml

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"errors"
	"fmt"
	"hash/crc32"
	"io"

	"github.com/beevik/etree"
)

// WriteContainer writes a compressed score (.mxl; MusicXML 4.0, container): the
// file "mimetype", the list META-INF/container.xml with rootName first and then
// all that have a MediaType, and the files in the given order. RootName must be
// one of them, names must be unique and stay below the container. The same files
// give the same bytes: no clock is read.
func WriteContainer(w io.Writer, rootName string, files ...File) error {
	if err := checkFiles(rootName, files); err != nil {
		return err
	}
	archive := zip.NewWriter(w)
	if err := addFile(archive, File{Name: typeFile, Data: []byte(containerType)}, zip.Store); err != nil {
		return err
	}
	list := File{Name: containerList, Data: containerText(rootName, files)}
	for _, f := range append([]File{list}, files...) {
		if err := addFile(archive, f, zip.Deflate); err != nil {
			return err
		}
	}
	if err := archive.Close(); err != nil {
		return fmt.Errorf("write compressed score: %w", err)
	}
	return nil
}

// checkFiles checks the names of a container's files.
func checkFiles(rootName string, files []File) error {
	seen := map[string]bool{typeFile: true, containerList: true}
	for _, f := range files {
		switch {
		case !isInside(f.Name):
			return fmt.Errorf("the name %s leads out of the compressed score", quote(f.Name))
		case seen[f.Name]:
			return fmt.Errorf("two files of the compressed score have the name %s", quote(f.Name))
		}
		seen[f.Name] = true
	}
	if rootName == typeFile || rootName == containerList || !seen[rootName] {
		return errors.New("the score is not among the files of the compressed score")
	}
	return nil
}

// containerText writes META-INF/container.xml.
func containerText(rootName string, files []File) []byte {
	doc := etree.NewDocument()
	doc.CreateProcInst("xml", `version="1.0" encoding="UTF-8"`)
	list := doc.CreateElement("container").CreateElement("rootfiles")
	add := func(name, mediaType string) {
		e := list.CreateElement("rootfile")
		e.CreateAttr("full-path", name)
		e.CreateAttr("media-type", mediaType)
	}
	add(rootName, scoreType)
	for _, f := range files {
		if f.MediaType != "" && f.Name != rootName {
			add(f.Name, f.MediaType)
		}
	}
	return Append(nil, doc, WriteOptions{Indent: 2})
}

// addFile adds one file, with its sizes in front of it and no extra field, as
// old unpackers and the standard want them.
func addFile(archive *zip.Writer, f File, method uint16) error {
	packed := f.Data
	if method == zip.Deflate {
		packed = deflate(f.Data)
	}
	w, err := archive.CreateRaw(newHeader(f, method, len(packed)))
	if err == nil {
		_, err = w.Write(packed)
	}
	if err != nil {
		return fmt.Errorf("write %s into the compressed score: %w", quote(f.Name), err)
	}
	return nil
}

func newHeader(f File, method uint16, packed int) *zip.FileHeader {
	const (
		newYear1980 = 1<<5 | 1 // the first date that an archive can say
		nameIsUTF8  = 0x800    // flag bit 11 (zip, 4.4.4)
	)
	h := &zip.FileHeader{
		Name: f.Name, Method: method, CRC32: crc32.ChecksumIEEE(f.Data),
		CompressedSize64: uint64(packed), UncompressedSize64: uint64(len(f.Data)),
		ModifiedDate: newYear1980,
	}
	for i := range len(f.Name) {
		if f.Name[i] >= 0x80 {
			h.Flags = nameIsUTF8
		}
	}
	return h
}

func deflate(data []byte) []byte {
	var packed bytes.Buffer
	// Neither can fail: the level is a valid one and the buffer takes all.
	w, _ := flate.NewWriter(&packed, flate.DefaultCompression)
	_, _ = w.Write(data)
	_ = w.Close()
	return packed.Bytes()
}
