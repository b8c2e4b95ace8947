package musicxml

import (
	"archive/zip"
	"bytes"
	"math"
)

// Weight is what a text is made of, counted before any tree is built of it: by it what
// reading it will cost can be told. A text of few bytes may have many elements, and a
// packed one many more.
type Weight struct {
	Elements int
	Notes    int
	Measures int
}

func (w Weight) plus(other Weight) Weight {
	return Weight{w.Elements + other.Elements, w.Notes + other.Notes, w.Measures + other.Measures}
}

// Weight is what the part is made of.
func (p RawPart) Weight() Weight { return p.weight }

// Weight is what all parts of the score are made of.
func (s *Score) Weight() Weight {
	var all Weight
	for i := range s.Parts {
		all = all.plus(s.Parts[i].weight)
	}
	return all
}

// TextBytes is how much memory the score's text takes, in bytes. A timewise score has
// it twice, bar by bar and part by part.
func (s *Score) TextBytes() int {
	size := len(s.text)
	if s.Timewise {
		for i := range s.Parts {
			size += len(s.Parts[i].data)
		}
	}
	return size
}

// ReadingBytes is how much memory the text of a file takes at most while it is read, in
// bytes: one that is, or may be, timewise is there twice, bar by bar and part by part.
func ReadingBytes(data []byte) int64 {
	size, largest := unpackedBytes(data)
	if bytes.Contains(data[:min(len(data), beginning)], []byte("<score-timewise")) && !isContainer(data) {
		size *= 2
	}
	return size + largest
}

// beginning is how far into a text its root is looked for, in bytes.
const beginning = 4 << 10

// UnpackedBytes is how much memory the text of a file takes, in bytes: that of a packed
// one as its table of contents says, which Read holds it to.
func UnpackedBytes(data []byte) int64 {
	size, _ := unpackedBytes(data)
	return size
}

// unpackedBytes is UnpackedBytes with the size of the largest file in a packed one.
func unpackedBytes(data []byte) (size, largest int64) {
	size = int64(len(data))
	if !isContainer(data) {
		return size, 0
	}
	archive, err := zip.NewReader(bytes.NewReader(data), size)
	if archive == nil || err != nil && err != zip.ErrInsecurePath {
		return size, 0 // Read will refuse it
	}
	for _, f := range archive.File {
		one := int64(min(f.UncompressedSize64, math.MaxInt32))
		size, largest = size+one, max(largest, one)
	}
	return size, largest
}
