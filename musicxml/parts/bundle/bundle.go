// Package bundle puts a score and its parts into one container, each part linked from its
// <score-part> (MusicXML 4.0, part-link), so that a program that opens the score finds
// them.
package bundle

import (
	"net/url"
	"path"
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/header"
)

// Part is a part file that travels with its score in one container.
type Part struct {
	musicxml.File          // inside the container, its name with slashes
	PartIDs       []string // of the score's parts that it was made from
	Label         string   // as the part is headed
	Instruments   []string // the ids of the score-instruments that it keeps
}

const xlinkSpace = "http://www.w3.org/1999/xlink"

// Files returns the files of a container that holds a score under rootName and its
// parts, and the files that the score came with, such as pictures, but for those of an
// earlier bundle's parts. The score itself is as it was but for the links. read reads a
// part of it, for as long as no other is read; nil: in memory of its own.
func Files(score *musicxml.Score, rootName string, made []Part, read func(i int) (*etree.Element, error), o musicxml.WriteOptions) ([]musicxml.File, error) {
	if read == nil {
		read = func(i int) (*etree.Element, error) { return score.ReadPart(i, nil) }
	}
	text, linked, err := linkedScore(score, made, read, o)
	if err != nil {
		return nil, err
	}
	files := []musicxml.File{{Name: rootName, Data: text}}
	linked[rootName] = true
	for _, m := range made {
		files = append(files, m.File)
		linked[m.Name] = true
	}
	for _, f := range score.Files {
		if !linked[f.Name] {
			files = append(files, f)
		}
	}
	return files, nil
}

// linkedScore writes the score with links to its parts (MusicXML 4.0, part-link). The
// score itself is as it was but for the links. It also returns the names of the files
// that the source was linked to.
func linkedScore(score *musicxml.Score, made []Part, read func(i int) (*etree.Element, error), o musicxml.WriteOptions) ([]byte, map[string]bool, error) {
	places := make([]*etree.Element, len(score.Parts))
	entries := score.ScoreParts()
	ready := map[*etree.Element][]byte{}
	for i := range places {
		part, err := read(i)
		if err != nil {
			return nil, nil, musicxml.Locate(err, musicxml.Error{File: score.Name, PartName: entries[i].Name, PartID: entries[i].ID})
		}
		places[i] = etree.NewElement("part")
		ready[places[i]] = musicxml.AppendPart(nil, part, o)
	}
	doc := score.Assemble(places)
	header.SetVersion(doc)
	root := doc.Root()
	linked := removePartLinks(root)
	root.CreateAttr("xmlns:xlink", xlinkSpace)
	for _, m := range made {
		for _, id := range m.PartIDs {
			if entry := scorePart(root, id); entry != nil {
				musicxml.AddInOrder(entry, partLink(entry, m))
			}
		}
	}
	return musicxml.AppendReady(nil, doc, o, ready), linked, nil
}

// removePartLinks takes out the links of an earlier bundle and returns the names
// that they led to.
func removePartLinks(root *etree.Element) map[string]bool {
	linked := map[string]bool{}
	for _, link := range musicxml.Along(root, "part-list", "score-part", "part-link") {
		if u, err := url.Parse(header.LinkTarget(link)); err == nil {
			linked[path.Clean(u.Path)] = true
		}
		link.Parent().RemoveChild(link)
	}
	return linked
}

func scorePart(root *etree.Element, id string) *etree.Element {
	for entry := range musicxml.Each(musicxml.Child(root, "part-list"), "score-part") {
		if musicxml.Attr(entry, "id") == id {
			return entry
		}
	}
	return nil
}

// partLink writes the link to one part's file. Where it holds only some of the
// instruments of a shared staff it names them.
func partLink(entry *etree.Element, m Part) *etree.Element {
	link := etree.NewElement("part-link")
	link.CreateAttr("xlink:href", (&url.URL{Path: strings.TrimPrefix(m.Name, "/")}).EscapedPath())
	link.CreateAttr("xlink:title", m.Label)
	known := musicxml.Children(entry, "score-instrument")
	if len(m.Instruments) < len(known) {
		for _, id := range m.Instruments {
			if slices.ContainsFunc(known, func(in *etree.Element) bool { return musicxml.Attr(in, "id") == id }) {
				link.CreateElement("instrument-link").CreateAttr("id", id)
			}
		}
	}
	link.CreateElement("group-link").SetText("parts")
	return link
}
