package shorthand

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

// ReadStaff writes how a part stands on its staves: clefs by their names, pitches,
// stems and first beams; values are left out.
func ReadStaff(part *etree.Element) string {
	var tokens []string
	for i, measure := range musicxml.Children(part, "measure") {
		if i > 0 {
			tokens = append(tokens, "|")
		}
		for _, e := range measure.ChildElements() {
			switch e.Tag {
			case "attributes":
				for clef := range musicxml.Each(e, "clef") {
					tokens = append(tokens, clefName(clef))
				}
			case "note":
				tokens = append(tokens, staffNote(e))
			case "backup":
				tokens = append(tokens, "<<")
			}
		}
	}
	return strings.Join(tokens, " ")
}

func clefName(e *etree.Element) string {
	name := instruments.Clef(music.ReadClef(e)).Name()
	if number := musicxml.Attr(e, "number"); number != "1" {
		return number + name
	}
	return name
}

func staffNote(e *etree.Element) string {
	text := ""
	if musicxml.Child(e, "grace") != nil {
		text = "g!"
	}
	if musicxml.Child(e, "chord") != nil {
		text += "+"
	}
	switch unpitched := musicxml.Child(e, "unpitched"); {
	case unpitched != nil:
		text += "u!" + musicxml.ChildText(unpitched, "display-step") + musicxml.ChildText(unpitched, "display-octave")
	case musicxml.Child(e, "rest") != nil:
		text += "r"
	default:
		text += readPitch(e)
	}
	text += map[string]string{"up": "↑", "down": "↓", "none": "!"}[musicxml.ChildText(e, "stem")]
	return text + beamFlags[musicxml.ChildText(e, "beam")]
}
