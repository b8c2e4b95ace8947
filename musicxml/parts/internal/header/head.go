package header

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/transpose/pitch"
)

// formatVersion is the version of MusicXML that parts are written in.
const formatVersion = "4.0"

// Document puts the part under a header of its own: titles and rights of the
// score, a page for a part, a part-list with this part alone.
func Document(d *draft.Draft, language pitch.Language) *etree.Document {
	s := &maker{d, language}
	doc := s.Score.Music.NewPartDocument(s.Assignment.Part, s.Slabs)
	root := doc.Root()
	SetVersion(doc)
	used := s.references(root)
	s.identification(root, used)
	defaults := musicxml.ChildOrNew(root, "defaults")
	c := crediting{maker: s, root: root, paper: s.paper(defaults), old: oldPage(defaults)}
	musicxml.RemoveChildren(defaults, "concert-score")
	c.paper.write(defaults)
	c.write()
	s.partList(root, used)
	root.AddChild(s.Part)
	dropDeadLinks(root, used)
	s.reportPictures(root, used)
	return doc
}

// maker makes the header of a part.
type maker struct {
	*draft.Draft
	language pitch.Language // of the labels
}

// SetVersion says which version of MusicXML is written, also in a DOCTYPE of the source.
func SetVersion(doc *etree.Document) {
	doc.Root().CreateAttr("version", formatVersion)
	for _, t := range doc.Child {
		if d, ok := t.(*etree.Directive); ok && strings.HasPrefix(d.Data, "DOCTYPE") {
			d.Data = `DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML ` + formatVersion +
				` Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd"`
		}
	}
}

// identification leaves out what the file of the score said of itself and is not
// true of this one.
func (s *maker) identification(root *etree.Element, used *references) {
	encoding := musicxml.Descend(root, "identification", "encoding")
	if encoding == nil {
		return
	}
	musicxml.RemoveChildren(encoding, "encoding-date", "software")
	software := etree.NewElement("software")
	software.SetText("deskpart")
	encoding.InsertChildAt(0, software)
	for _, e := range musicxml.Children(encoding, "supports") {
		if !used.stillTrue(e) {
			encoding.RemoveChild(e)
		}
	}
}

// stillTrue reports whether the part bears out what <supports> claims. A claim to
// carry breaks would make the absence of breaks meaningful; a claim not to use an
// element is false once the part has one (MusicXML 4.0, supports).
func (r *references) stillTrue(supports *etree.Element) bool {
	element, attribute := musicxml.Attr(supports, "element"), musicxml.Attr(supports, "attribute")
	if musicxml.Attr(supports, "type") == "yes" {
		return element != "print" || attribute != "new-system" && attribute != "new-page"
	}
	return attribute != "" || !r.tags[element]
}

// partList gives the part's entry its names, and the ids that the part uses.
func (s *maker) partList(root *etree.Element, used *references) {
	list := musicxml.ChildOrNew(root, "part-list")
	entry := musicxml.Child(list, "score-part")
	if entry == nil {
		entry = etree.NewElement("score-part")
		entry.CreateAttr("id", s.Assignment.ID)
		list.AddChild(entry)
	}
	musicxml.RemoveChildren(entry, "part-link", "group")
	if s.Score.StoodAtSound(s.Assignment.Part) {
		musicxml.RemoveChildren(entry, "identification") // a word for the way back of a whole score
	}
	musicxml.SetChildText(entry, "group", "parts")
	s.name(entry)
	if len(s.Entries) > 0 {
		s.joinEntries(entry, used)
		return
	}
	s.keepOwnInstruments(entry, used)
	s.instruments(entry, used)
}

// name heads the part with its label.
func (s *maker) name(entry *etree.Element) {
	musicxml.RemoveChildren(entry, "part-name", "part-name-display")
	musicxml.SetChildText(entry, "part-name", s.Assignment.Label)
	if display := nameDisplay(s.Assignment.Label); display != nil {
		musicxml.AddInOrder(entry, display)
	}
	in := s.Assignment.Instrument
	if in == nil {
		return
	}
	musicxml.RemoveChildren(entry, "part-abbreviation", "part-abbreviation-display")
	if s.Assignment.Edition != "" { // its label is no instrument's
		return
	}
	if short := in.ShortLabel(s.language, s.playerNumber()); short != "" {
		musicxml.SetChildText(entry, "part-abbreviation", short)
	}
}

// accidentalNames are the accidentals that a name can have, as MusicXML calls them.
var accidentalNames = map[rune]string{'♭': "flat", '♯': "sharp", '♮': "natural"}

// nameDisplay writes a part's name with its accidentals as such, nil where it has none:
// part-name is plain text (MusicXML 4.0, name-display).
func nameDisplay(name string) *etree.Element {
	if !strings.ContainsAny(name, "♭♯♮") {
		return nil
	}
	display := etree.NewElement("part-name-display")
	text := ""
	flush := func() {
		if text != "" {
			display.CreateElement("display-text").SetText(text)
		}
		text = ""
	}
	for _, r := range name {
		if accidental := accidentalNames[r]; accidental != "" {
			flush()
			display.CreateElement("accidental-text").SetText(accidental)
			continue
		}
		text += string(r)
	}
	flush()
	return display
}
