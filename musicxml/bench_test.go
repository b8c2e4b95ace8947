package musicxml

import (
	"os"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
)

// largeScore returns the text of the largest shared movement and the score.
func largeScore(b *testing.B) ([]byte, *Score) {
	b.Helper()
	path := musicxmltest.SharedFiles(b, "scores/concert/Brahms_Op.68_1.concert.mxl")[0]
	text := []byte(scoreText(b, path))
	s, err := Read(text, ReadOptions{})
	require.NoError(b, err)
	return text, s
}

// BenchmarkRead cuts the score into header and parts.
func BenchmarkRead(b *testing.B) {
	text, _ := largeScore(b)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		_, err := Read(text, ReadOptions{})
		require.NoError(b, err)
	}
}

// BenchmarkReadParts builds the tree of every part.
func BenchmarkReadParts(b *testing.B) {
	text, s := largeScore(b)
	var slabs Slabs
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		for i := range s.Parts {
			slabs.Reset()
			_, err := s.ReadPart(i, &slabs)
			require.NoError(b, err)
		}
	}
}

// BenchmarkSkimParts builds the trees of what a first look needs.
func BenchmarkSkimParts(b *testing.B) {
	text, s := largeScore(b)
	var slabs Slabs
	keep := func(parent, tag string) bool {
		switch tag {
		case "measure", "attributes", "note", "backup", "forward", "duration", "chord", "grace":
			return true
		}
		return parent == "attributes"
	}
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		for i := range s.Parts {
			slabs.Reset()
			_, err := s.SkimPart(i, &slabs, Skim{Element: keep})
			require.NoError(b, err)
		}
	}
}

// BenchmarkWriteParts writes every part's document.
func BenchmarkWriteParts(b *testing.B) {
	text, s := largeScore(b)
	var docs []*etree.Document
	for i := range s.Parts {
		part, err := s.ReadPart(i, nil)
		require.NoError(b, err)
		doc := s.NewPartDocument(i, nil)
		doc.Root().AddChild(part)
		docs = append(docs, doc)
	}
	var out []byte
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		for _, doc := range docs {
			out = Append(out[:0], doc, WriteOptions{})
		}
	}
}

// BenchmarkReadWrite goes from the text to every part's text on one core.
func BenchmarkReadWrite(b *testing.B) {
	text, _ := largeScore(b)
	var slabs Slabs
	var out []byte
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		s, err := Read(text, ReadOptions{})
		require.NoError(b, err)
		for i := range s.Parts {
			slabs.Reset()
			part, err := s.ReadPart(i, &slabs)
			require.NoError(b, err)
			doc := s.NewPartDocument(i, &slabs)
			doc.Root().AddChild(part)
			out = Append(out[:0], doc, WriteOptions{})
		}
	}
}

// BenchmarkReadFile opens the compressed score, in memory that is used again.
func BenchmarkReadFile(b *testing.B) {
	path := musicxmltest.SharedFiles(b, "scores/concert/Brahms_Op.68_1.concert.mxl")[0]
	info, err := os.Stat(path)
	require.NoError(b, err)
	var buffers Buffers
	b.SetBytes(info.Size())
	b.ReportAllocs()
	for b.Loop() {
		s, err := ReadFile(path, ReadOptions{Buffers: &buffers})
		require.NoError(b, err)
		s.Release()
	}
}
