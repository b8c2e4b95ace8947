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
	var opus *musicxml.Opus
	var err error
	if o := (musicxml.ReadOptions{Name: path, Limits: f.limits}); packed {
		opus, err = severalIn(path, o)
	} else if data, unread := files.ReadInput(path, f.limits.InputBytes, nil); unread == nil && musicxml.IsOpus(data) {
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

// severalIn looks for several scores in a packed file, of which it reads no more than the
// list and the heads. Whoever reads the file says why it cannot be.
func severalIn(path string, o musicxml.ReadOptions) (*musicxml.Opus, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, nil
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil || !info.Mode().IsRegular() {
		return nil, nil
	}
	return musicxml.Several(file, info.Size(), o)
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
