package main

import (
	"bytes"
	"os"
	"path/filepath"

	"deskpart/cmd/internal/files"
	"deskpart/musicxml"
)

// opusHead is how far into a file the root of an opus document is looked for.
// It stands after the declaration and a DOCTYPE.
const opusHead = 4 << 10

// expandOpus returns the scores that an opus document stands for, nil where the
// file is none. Only the head of other files is read.
func (f *runFlags) expandOpus(path string) ([]string, error) {
	if !looksLikeOpus(path) {
		return nil, nil
	}
	data, err := files.ReadInput(path, f.limits.InputBytes, nil)
	if err != nil || !musicxml.IsOpus(data) {
		return nil, err
	}
	opus, err := musicxml.ReadOpus(data, musicxml.ReadOptions{Name: path, Limits: f.limits})
	if err != nil {
		return nil, err
	}
	var paths []string
	for _, score := range opus.Scores {
		paths = append(paths, filepath.Join(filepath.Dir(path), filepath.FromSlash(score.Href)))
	}
	return paths, nil
}

// looksLikeOpus reads the head of a plain file. What cannot be read is no opus:
// whoever reads it as a score says why.
func looksLikeOpus(path string) bool {
	if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() {
		return false
	}
	file, err := os.Open(path)
	if err != nil {
		return false
	}
	defer file.Close()
	head := make([]byte, opusHead)
	n, _ := file.Read(head)
	// UTF-16 has a zero byte beside each letter.
	return bytes.Contains(bytes.ReplaceAll(head[:n], []byte{0}, nil), []byte("<opus"))
}
