package parts

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/header"
)

// BundledPart is a part file that travels with its score in one container.
type BundledPart struct {
	Assignment Assignment
	Report     Report
	Name       string // of the file inside the container, with slashes
	Data       []byte // the part as written
}

// Bundle returns the files of a container that holds the score under rootName and
// its parts, each linked from its <score-part> (MusicXML 4.0, part-link). The
// score itself is as it was but for the links; files that it came with, such as
// pictures, come along, those of an earlier bundle's parts do not. The score's
// parts are read one by one.
func (s *Surveyed) Bundle(w *Workspace, rootName string, made []BundledPart, o musicxml.WriteOptions) ([]musicxml.File, error) {
	links := make([]header.Link, len(made))
	for i, m := range made {
		links[i] = header.Link{File: musicxml.File{Name: m.Name, Data: m.Data}, PartIDs: partsOf(&m.Assignment), Label: m.Assignment.Label, Instruments: m.Report.Instruments}
	}
	return header.Bundle(&s.score, rootName, links, func(i int) (*etree.Element, error) { return w.ReadPart(s.score.Music, i) }, o)
}

// partsOf are the ids of the score's parts that a player has; none of a tacet sheet's.
func partsOf(a *Assignment) []string {
	if a.ID == "" {
		return nil
	}
	ids := []string{a.ID}
	for _, further := range a.With {
		ids = append(ids, further.ID)
	}
	return ids
}
