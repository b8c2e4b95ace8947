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

// expandOpus returns the scores that an opus document, or a compressed file of several
// scores, stands for; nil where the file is neither. Only the head of other plain files
// is read.
func (f *runFlags) expandOpus(path string) (*files.Members, error) {
	packed, may := looksLikeOpus(path)
	if !may {
		return nil, nil
	}
	data, err := files.ReadInput(path, f.limits.InputBytes, nil)
	o := musicxml.ReadOptions{Name: path, Limits: f.limits}
	var opus *musicxml.Opus
	switch {
	case err != nil: // whoever reads it says why
		return nil, nil
	case packed:
		opus, err = musicxml.Several(data, o)
	case musicxml.IsOpus(data):
		opus, err = musicxml.ReadOpus(data, o)
	}
	if err != nil || opus == nil {
		return nil, err
	}
	members := &files.Members{Title: opus.Title}
	for _, score := range opus.Scores {
		m := files.Member{Path: path, Inside: score.Href, Title: score.Title}
		if !packed {
			m.Path, m.Inside = filepath.Join(filepath.Dir(path), filepath.FromSlash(score.Href)), ""
		}
		members.Scores = append(members.Scores, m)
	}
	return members, nil
}

// looksLikeOpus reads the head of a file: a packed one may hold several scores. What
// cannot be read is no opus: whoever reads it as a score says why.
func looksLikeOpus(path string) (packed, may bool) {
	if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() {
		return false, false
	}
	file, err := os.Open(path)
	if err != nil {
		return false, false
	}
	defer file.Close()
	head := make([]byte, opusHead)
	n, _ := file.Read(head)
	if bytes.HasPrefix(head[:n], []byte("PK")) {
		return true, true
	}
	// UTF-16 has a zero byte beside each letter.
	return false, bytes.Contains(bytes.ReplaceAll(head[:n], []byte{0}, nil), []byte("<opus"))
}
