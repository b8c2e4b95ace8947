package parts

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// document puts the part under a header of its own: titles and rights of the
// score, a part-list with this part alone.
func (s *sheet) document() (*etree.Document, error) {
	doc := s.score.NewDocument()
	root := doc.Root()
	s.partList(root)
	s.defaults(root)
	s.credits(root)
	root.AddChild(s.part)
	return doc, nil
}

// partList keeps this part's entry.
func (s *sheet) partList(root *etree.Element) {
	list := musicxml.Child(root, "part-list")
	if list == nil {
		list = etree.NewElement("part-list")
		musicxml.AddInOrder(root, list)
	}
	var entry *etree.Element
	for _, e := range list.ChildElements() {
		if e.Tag == "score-part" && musicxml.Attr(e, "id") == s.assignment.ID && entry == nil {
			entry = e
			continue
		}
		list.RemoveChild(e)
	}
	if entry == nil {
		entry = etree.NewElement("score-part")
		entry.CreateAttr("id", s.assignment.ID)
		list.AddChild(entry)
	}
	musicxml.RemoveChildren(entry, "part-link")
	s.name(entry)
	s.keepOwnInstruments(entry)
}

// name heads the part with its label.
func (s *sheet) name(entry *etree.Element) {
	name := musicxml.SetChildText(entry, "part-name", s.assignment.Label)
	name.RemoveAttr("print-object")
	musicxml.RemoveChildren(entry, "part-name-display")
	if in := s.assignment.Instrument; in != nil {
		musicxml.RemoveChildren(entry, "part-abbreviation", "part-abbreviation-display")
		if short := in.ShortLabel(s.options.Language, s.playerNumber()); short != "" {
			musicxml.SetChildText(entry, "part-abbreviation", short)
		}
	}
}

// defaults takes out what describes the score's page.
func (s *sheet) defaults(root *etree.Element) {
	defaults := musicxml.Child(root, "defaults")
	if defaults == nil {
		return
	}
	musicxml.RemoveChildren(defaults, "concert-score", "page-layout", "system-layout", "staff-layout")
	if len(defaults.ChildElements()) == 0 {
		root.RemoveChild(defaults)
	}
}

// credits leaves the score's own labels out and names the part.
func (s *sheet) credits(root *etree.Element) {
	for _, credit := range musicxml.Children(root, "credit") {
		stripPositions(credit)
		if page := musicxml.Attr(credit, "page"); page != "" && page != "1" || musicxml.ChildText(credit, "credit-type") == "part name" {
			root.RemoveChild(credit)
		}
	}
	credit := etree.NewElement("credit")
	credit.CreateAttr("page", "1")
	musicxml.SetChildText(credit, "credit-type", "part name")
	musicxml.SetChildText(credit, "credit-words", s.assignment.Label)
	musicxml.AddInOrder(root, credit)
}
