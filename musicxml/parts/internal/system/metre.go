package system

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
	"deskpart/musicxml/parts/internal/draft"
)

// metre is a time signature where one part states it.
type metre struct {
	musicxml.Position
	element *etree.Element // a copy
	// says names the signature, before the one that it follows, "" for none.
	says, before string
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
	m := metre{Position: g.at(ev.Onset), says: draft.Content(e), before: g.metre}
	if m.element = g.keep(e); m.element != nil {
		m.element.RemoveAttr("number")
	}
	g.metre = m.says
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

// addMetres writes the time signatures that only other parts state. A part that
// goes its own way, in another metre than the part that states the change, is
// left alone.
func (s *adder) addMetres(own *PartMarks) {
	current, next := "", 0
	for _, m := range s.road.metres {
		for next < len(own.metres) && own.metres[next].Compare(m.Position) <= 0 {
			current = own.metres[next].says
			next++
		}
		if next > 0 && own.metres[next-1].Position == m.Position {
			continue
		}
		if current != m.before || m.Measure >= len(s.Timeline.Measures) {
			continue
		}
		s.addMetre(m)
		current = m.says
	}
}

func (s *adder) addMetre(m metre) {
	attributes := s.AttributesJustAt(m.Position)
	if attributes == nil {
		s.Warn(musicxml.Warning{Code: "metre-not-placed", Measure: s.Timeline.Measures[m.Measure].Number,
			Text: "the time signature changes inside a note of this part; it was not written"})
		return
	}
	musicxml.AddInOrder(attributes, m.element.Copy())
}
