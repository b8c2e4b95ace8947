package musicxml

import (
	"cmp"
	"errors"
	"fmt"
	"net/url"
	"path"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml/notice"
)

// Opus is a list of scores that belong together: movements of a symphony, songs
// of an album (MusicXML 4.0, opus).
type Opus struct {
	Title    string
	Scores   []OpusScore // in order, nested opuses unfolded
	Files    []File      // the files of the container that the opus came in
	Warnings []*Error    // links that cannot be followed
}

// OpusScore is a link of an opus to a score or to another opus document.
type OpusScore struct {
	Href  string // path relative to the opus document's folder, with slashes; it never leaves that folder
	Title string // xlink:title, or the titles of the nested opuses around the link
	Opus  bool   // the link is to another opus document (opus-link)
}

// ReadOpus reads an opus document, compressed or not. ErrorCode is "not-opus"
// where data is something else.
func ReadOpus(data []byte, o ReadOptions) (*Opus, error) {
	opus, err := readOpus(data, o)
	return opus, Locate(err, Error{File: o.Name})
}

func readOpus(data []byte, o ReadOptions) (*Opus, error) {
	s := &Score{Name: o.Name, limits: o.Limits.withDefaults()}
	if isContainer(data) {
		root, err := s.open(data, o)
		if err != nil {
			return nil, err
		}
		data = root
	}
	doc, err := ParseDocument(data, o)
	if err != nil {
		return nil, err
	}
	if doc.Root().Tag != "opus" {
		return nil, &Error{Code: notice.NotOpus, Hint: "read it as a score", Err: errors.New("this is not an opus")}
	}
	opus := &Opus{Title: ChildText(doc.Root(), "title"), Files: s.Files, Warnings: s.Warnings}
	eachLink(doc.Root(), "", opus.link)
	return opus, nil
}

// eachLink hands on the links below an opus element in order, each with the titles of the
// nested opuses around it.
func eachLink(opus *etree.Element, title string, do func(link *etree.Element, title string)) {
	for _, e := range opus.ChildElements() {
		switch e.Tag {
		case "opus":
			eachLink(e, joinTitles(title, ChildText(e, "title")), do)
		case "score", "opus-link":
			do(e, title)
		}
	}
}

func joinTitles(outer, inner string) string {
	if outer == "" || inner == "" {
		return outer + inner
	}
	return outer + ", " + inner
}

// link adds one link, or a warning where it leads out of the opus's folder.
func (o *Opus) link(e *etree.Element, title string) {
	href := ""
	if target := linkOf(e); target != nil {
		href = strings.TrimSpace(target.Value)
	}
	name, ok := linkPath(href)
	if !ok {
		o.Warnings = append(o.Warnings, &Error{Code: notice.UnsafePath, Hint: "give that score itself", Err: fmt.Errorf("the link %s leads out of the opus and is not followed", quote(href))})
		return
	}
	title = cmp.Or(e.SelectAttrValue("xlink:title", ""), title)
	o.Scores = append(o.Scores, OpusScore{Href: name, Title: title, Opus: e.Tag == "opus-link"})
}

// linkPath returns the path that a link names below its folder.
func linkPath(href string) (string, bool) {
	u, err := url.Parse(href)
	switch {
	case err == nil && (u.Scheme != "" || u.Host != ""):
		return "", false
	case err == nil && u.Path != "":
		href = u.Path
	}
	name := path.Clean(strings.ReplaceAll(href, `\`, "/"))
	return name, href != "" && isInside(name)
}

// IsOpus tells by content whether data is an opus document, compressed or not.
func IsOpus(data []byte) bool {
	if !isContainer(data) {
		return rootOf(data) == "opus"
	}
	c, err := openContainer(data, DefaultLimits())
	if err != nil {
		return false
	}
	_, err = c.findRoot()
	return err == nil && rootOf(c.start) == "opus"
}
