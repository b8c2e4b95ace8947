package musicxml

import (
	"cmp"
	"fmt"
	"net/url"
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml/notice"
)

// RelinkOpus returns an opus document, not compressed, whose links lead elsewhere: to
// returns the new path of a link, relative to the document's folder and with slashes, or
// "" where it stays. Where all stay the text is the same, byte for byte.
func RelinkOpus(data []byte, o ReadOptions, to func(OpusScore) string) ([]byte, error) {
	doc, err := ParseDocument(slices.Clone(data), o)
	if err != nil {
		return nil, Locate(err, Error{File: o.Name})
	}
	changed := false
	eachLink(doc.Root(), "", func(e *etree.Element, _ string) {
		href := linkOf(e)
		if href == nil {
			return
		}
		name, ok := linkPath(strings.TrimSpace(href.Value))
		if !ok {
			return
		}
		if other := to(OpusScore{Href: name, Opus: e.Tag == "opus-link"}); other != "" && other != name {
			href.Value, changed = (&url.URL{Path: other}).String(), true
		}
	})
	if !changed {
		return data, nil
	}
	return Append(nil, doc, WriteOptions{Indent: 2}), nil
}

// linkOf is the attribute that a link's target stands in, nil without.
func linkOf(e *etree.Element) *etree.Attr {
	return cmp.Or(e.SelectAttr("xlink:href"), e.SelectAttr("href"))
}

// NewOpus returns an opus document of scores in order (MusicXML 4.0, opus).
func NewOpus(title string, scores ...OpusScore) *etree.Document {
	doc := etree.NewDocument()
	doc.CreateProcInst("xml", `version="1.0" encoding="UTF-8"`)
	root := doc.CreateElement("opus")
	root.CreateAttr("version", "4.0")
	root.CreateAttr("xmlns:xlink", "http://www.w3.org/1999/xlink")
	if title != "" {
		root.CreateElement("title").SetText(title)
	}
	for _, s := range scores {
		link := root.CreateElement("score")
		link.CreateAttr("xlink:href", (&url.URL{Path: s.Href}).String())
		if s.Title != "" {
			link.CreateAttr("xlink:title", s.Title)
		}
	}
	return doc
}

// Repack returns the files of a compressed file, those that its list names first and in
// its order, with other data for some of them, by their names there. root is the first of
// them; WriteContainer packs them again.
func Repack(data []byte, o ReadOptions, other map[string][]byte) (root string, files []File, err error) {
	c, err := openContainer(data, o.Limits.withDefaults())
	if err != nil {
		return "", nil, Locate(err, Error{File: o.Name})
	}
	found, err := c.findRoot()
	if err != nil {
		return "", nil, Locate(err, Error{File: o.Name})
	}
	for _, name := range c.rootNames() {
		if f := c.lookup(name); f != nil && c.listed[f.Name] == "" {
			c.listed[f.Name] = scoreType
		}
	}
	for name := range other {
		if c.lookup(name) == nil {
			return "", nil, Locate(&Error{Code: notice.Unreadable, Err: fmt.Errorf("%s is not in it", quote(name))}, Error{File: o.Name})
		}
	}
	c.root = nil // it is one of the others
	files, err = c.othersWith(other)
	return insideName(found.Name), files, Locate(err, Error{File: o.Name})
}

// othersWith unpacks all files but those of which there are other data.
func (c *container) othersWith(other map[string][]byte) (files []File, err error) {
	order := map[string]int{}
	for i, name := range c.rootNames() {
		if f := c.lookup(name); f != nil && order[insideName(f.Name)] == 0 {
			order[insideName(f.Name)] = i - len(c.files)
		}
	}
	kept := c.files
	defer func() { c.files = kept }()
	c.files = nil
	for _, f := range kept {
		text, has := other[f.Name]
		if !has {
			c.files = append(c.files, f)
			continue
		}
		files = append(files, File{Name: insideName(f.Name), MediaType: c.listed[f.Name], Data: text})
	}
	rest, err := c.others()
	files = append(files, rest...)
	slices.SortStableFunc(files, func(a, b File) int {
		return cmp.Or(cmp.Compare(order[a.Name], order[b.Name]), strings.Compare(a.Name, b.Name))
	})
	return files, err
}
