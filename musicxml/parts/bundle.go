package parts

import (
	"net/url"
	"path"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// BundledPart is a part file that travels with its score in one container.
type BundledPart struct {
	Assignment Assignment
	Report     Report
	Name       string // of the file inside the container, with slashes
	Data       []byte // the part as written
}

const xlinkSpace = "http://www.w3.org/1999/xlink"

// Bundle returns the files of a container that holds the score under rootName and
// its parts, each linked from its <score-part> (MusicXML 4.0, part-link). The
// score itself is as it was but for the links; files that it came with, such as
// pictures, come along, those of an earlier bundle's parts do not. The score's
// parts are read one by one.
func (c *Copyist) Bundle(rootName string, made []BundledPart, desk *Desk, o musicxml.WriteOptions) ([]musicxml.File, error) {
	score, linked, err := c.linkedScore(made, desk.of(c), o)
	if err != nil {
		return nil, err
	}
	files := []musicxml.File{{Name: rootName, Data: score}}
	taken := map[string]bool{rootName: true}
	for _, m := range made {
		taken[m.Name] = true
		files = append(files, musicxml.File{Name: m.Name, Data: m.Data})
	}
	for _, f := range c.score.Files {
		if !taken[f.Name] && !linked[f.Name] {
			files = append(files, f)
		}
	}
	return files, nil
}

// linkedScore writes the score with links to its parts. It also returns the names
// of the files that the source was linked to.
func (c *Copyist) linkedScore(made []BundledPart, desk *Desk, o musicxml.WriteOptions) ([]byte, map[string]bool, error) {
	places := make([]*etree.Element, len(c.score.Parts))
	ready := map[*etree.Element][]byte{}
	for i := range places {
		part, err := c.score.ReadPart(i, &desk.Slabs)
		if err != nil {
			return nil, nil, c.locate(err, i)
		}
		places[i] = etree.NewElement("part")
		ready[places[i]] = musicxml.AppendPart(nil, part, o)
		desk.Clear()
	}
	doc := c.score.Assemble(places)
	root := doc.Root()
	root.CreateAttr("version", formatVersion)
	setDoctype(doc)
	linked := removePartLinks(root)
	declareXlink(root)
	for _, m := range made {
		if entry := scorePart(root, m.Assignment.ID); entry != nil {
			musicxml.AddInOrder(entry, partLink(entry, m))
		}
	}
	return musicxml.AppendReady(nil, doc, o, ready), linked, nil
}

// removePartLinks takes out the links of an earlier bundle and returns the names
// that they led to.
func removePartLinks(root *etree.Element) map[string]bool {
	linked := map[string]bool{}
	list := musicxml.Child(root, "part-list")
	if list == nil {
		return linked
	}
	for _, entry := range musicxml.Children(list, "score-part") {
		for _, link := range musicxml.Children(entry, "part-link") {
			if u, err := url.Parse(xlinkTarget(link)); err == nil {
				linked[path.Clean(u.Path)] = true
			}
			entry.RemoveChild(link)
		}
	}
	return linked
}

// declareXlink declares the prefix xlink at the root, where it is not.
func declareXlink(root *etree.Element) {
	for _, a := range root.Attr {
		if a.Space == "xmlns" && a.Key == "xlink" {
			return
		}
	}
	root.CreateAttr("xmlns:xlink", xlinkSpace)
}

func scorePart(root *etree.Element, id string) *etree.Element {
	list := musicxml.Child(root, "part-list")
	if list == nil {
		return nil
	}
	for _, entry := range musicxml.Children(list, "score-part") {
		if musicxml.Attr(entry, "id") == id {
			return entry
		}
	}
	return nil
}

// partLink writes the link to one part's file. Where it holds only some of the
// instruments of a shared staff it names them.
func partLink(entry *etree.Element, m BundledPart) *etree.Element {
	link := etree.NewElement("part-link")
	link.CreateAttr("xlink:href", (&url.URL{Path: strings.TrimPrefix(m.Name, "/")}).EscapedPath())
	link.CreateAttr("xlink:title", m.Assignment.Label)
	known := idsOf(entry, "score-instrument")
	if len(m.Report.Instruments) < len(known) {
		for _, id := range m.Report.Instruments {
			if known[id] {
				link.CreateElement("instrument-link").CreateAttr("id", id)
			}
		}
	}
	link.CreateElement("group-link").SetText("parts")
	return link
}
