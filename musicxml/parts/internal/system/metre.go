package system

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
)

// metre is a time signature where one part states it.
type metre struct {
	musicxml.Position
	element *etree.Element // a copy
	says    string         // the signature's name
	hidden  bool           // it is not printed
}

// attributes keeps time signatures, and tempo words in the old <directive>.
func (g *gatherer) attributes(ev *musicxml.Event) {
	for _, e := range ev.Element.ChildElements() {
		switch e.Tag {
		case "time":
			g.time(ev, e)
		case "directive":
			g.directive(ev, e)
		}
	}
}

func (g *gatherer) time(ev *musicxml.Event, e *etree.Element) {
	if n := musicxml.Attr(e, "number"); n != "" && n != "1" {
		return
	}
	m := metre{Position: g.at(ev.Onset), says: musicxml.Content(e), hidden: musicxml.Attr(e, "print-object") == "no"}
	if m.element = g.keep(e); m.element != nil {
		m.element.RemoveAttr("number")
	}
	g.metres = append(g.metres, m)
}

// directive keeps the text of a <directive>, which MusicXML 2.0 replaced by words.
func (g *gatherer) directive(ev *musicxml.Event, e *etree.Element) {
	text := musicxml.Text(e)
	read := g.words.Read(text)
	if read.Class != lexicon.TempoWords && read.Class != lexicon.HeadingWords && read.Class != lexicon.GradualWords {
		return
	}
	m := mark{Position: g.at(ev.Onset), seen: ev.Onset, says: []saying{{facet: saysWords, key: read.Key}}}
	if !g.own {
		m.direction = etree.NewElement("direction")
		m.direction.CreateAttr("placement", "above")
		m.direction.CreateAttr("directive", "yes")
		m.direction.CreateElement("direction-type").CreateElement("words").SetText(text)
	}
	g.marks = append(g.marks, m)
}
