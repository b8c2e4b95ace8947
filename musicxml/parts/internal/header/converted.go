package header

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/survey"
)

// Converted is the document of a converted score, in which an empty <part>
// holds the place of each part: its header says that the score is in concert
// pitch, or no longer does. atSound tells of each part whether it stood at sounding
// pitch in the source, unsaid.
func Converted(c *survey.Score, concert bool, atSound []bool) (doc *etree.Document, places []*etree.Element) {
	places = make([]*etree.Element, len(c.Music.Parts))
	for i := range places {
		places[i] = etree.NewElement("part")
	}
	doc = c.Music.Assemble(places)
	sayPitch(doc.Root(), concert)
	sayStoodAtSound(c, doc.Root(), concert, atSound)
	return doc, places
}

// sayPitch keeps <concert-score> true.
func sayPitch(root *etree.Element, concert bool) {
	if concert {
		musicxml.ChildOrNew(musicxml.ChildOrNew(root, "defaults"), "concert-score")
		return
	}
	if defaults := musicxml.Child(root, "defaults"); defaults != nil {
		musicxml.RemoveChildren(defaults, "concert-score")
		if len(defaults.ChildElements()) == 0 {
			root.RemoveChild(defaults)
		}
	}
}

// sayStoodAtSound writes or takes out what the score's parts say of that.
func sayStoodAtSound(c *survey.Score, root *etree.Element, concert bool, atSound []bool) {
	for entry := range musicxml.Each(musicxml.Child(root, "part-list"), "score-part") {
		for i := range c.ScoreParts {
			if c.ScoreParts[i].ID != musicxml.Attr(entry, "id") {
				continue
			}
			if c.StoodAtSound(i) && !concert {
				musicxml.RemoveChildren(entry, "identification")
			}
			if atSound[i] && concert && musicxml.Child(entry, "identification") == nil {
				identification := etree.NewElement("identification")
				field := musicxml.SetChildText(identification.CreateElement("miscellaneous"), "miscellaneous-field", survey.SourcePitchSounding)
				field.CreateAttr("name", survey.SourcePitch)
				musicxml.AddInOrder(entry, identification)
			}
		}
	}
}
