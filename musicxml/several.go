package musicxml

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"path"
	"slices"

	"deskpart/musicxml/notice"
)

// Several returns the scores of a compressed file of that many bytes that holds a work of
// several: those of an opus in it, in order, or where its list names several scores,
// those. It is nil for anything else, also for a score whose parts lie beside it, linked.
// Links of the opus that lead to nothing in the file are errors of the code unreadable.
func Several(file io.ReaderAt, size int64, o ReadOptions) (*Opus, error) {
	c, err := openArchive(file, size, o.Limits.withDefaults())
	if err != nil {
		return nil, nil // whoever reads it says why
	}
	root, err := c.findRoot()
	if err != nil {
		return nil, nil
	}
	if rootOf(c.start) == "opus" {
		opus, err := c.innerOpus(root)
		if err != nil {
			return nil, Locate(err, Error{File: o.Name})
		}
		opus.Scores, err = c.scoresOf(opus, path.Dir(root.Name), nil)
		return opus, Locate(err, Error{File: o.Name})
	}
	if bytes.Contains(c.start, []byte("<part-link")) {
		return nil, nil
	}
	return c.listedScores(), nil
}

// listedScores are the scores that the container lists, nil where it lists one.
func (c *container) listedScores() *Opus {
	opus := new(Opus)
	for _, name := range c.rootNames() {
		f := c.lookup(name)
		if f == nil || slices.ContainsFunc(opus.Scores, func(s OpusScore) bool { return s.Href == f.Name }) {
			continue
		}
		if start, err := head(f); err == nil && (rootOf(start) == "score-partwise" || rootOf(start) == "score-timewise") {
			opus.Scores = append(opus.Scores, OpusScore{Href: f.Name})
		}
	}
	if len(opus.Scores) < 2 {
		return nil
	}
	return opus
}

// scoresOf resolves the links of an opus in the container, those to other opuses too.
func (c *container) scoresOf(opus *Opus, folder string, opened []string) ([]OpusScore, error) {
	var scores []OpusScore
	for _, link := range opus.Scores {
		f := c.lookup(path.Join(folder, link.Href))
		switch {
		case f == nil:
			return nil, &Error{Code: notice.Unreadable, Err: fmt.Errorf("the opus names %s, and it is not there", quote(link.Href))}
		case !link.Opus:
			scores = append(scores, OpusScore{Href: f.Name, Title: link.Title})
			continue
		case slices.Contains(opened, f.Name):
			continue
		}
		inner, err := c.innerOpus(f)
		if err != nil {
			return nil, err
		}
		found, err := c.scoresOf(inner, path.Dir(f.Name), append(opened, f.Name))
		if err != nil {
			return nil, err
		}
		scores = append(scores, found...)
	}
	return scores, nil
}

func (c *container) innerOpus(f *zip.File) (*Opus, error) {
	text, err := c.read(f)
	if err != nil {
		return nil, err
	}
	return ReadOpus(text, ReadOptions{Limits: c.limits})
}

// ReadContained unpacks one file of a compressed file, by its name there.
func ReadContained(data []byte, name string, o ReadOptions) ([]byte, error) {
	if !isContainer(data) {
		return nil, Locate(&Error{Code: notice.DamagedArchive, Err: errors.New("this is no compressed file")}, Error{File: o.Name})
	}
	c, err := openContainer(data, o.Limits.withDefaults())
	if err != nil {
		return nil, Locate(err, Error{File: o.Name})
	}
	f := c.lookup(name)
	if f == nil {
		return nil, Locate(&Error{Code: notice.Unreadable, Err: fmt.Errorf("%s is not in it", quote(name))}, Error{File: o.Name})
	}
	text, err := c.read(f)
	return text, Locate(err, Error{File: o.Name})
}
