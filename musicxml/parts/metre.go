package parts

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// metre is a time signature where one part states it.
type metre struct {
	measure int
	onset   musicxml.Fraction
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
	m := metre{measure: g.measure.Index, onset: ev.Onset, says: content(e), before: g.metre}
	if m.element = g.keep(e); m.element != nil {
		m.element.RemoveAttr("number")
	}
	g.metre = m.says
	g.metres = append(g.metres, m)
}

// directive keeps the text of a <directive>, which MusicXML 2.0 replaced by words.
func (g *gatherer) directive(ev *musicxml.Event, e *etree.Element) {
	text := musicxml.Text(e)
	read := g.words.read(text)
	if read.class != tempoWords && read.class != headingWords && read.class != gradualWords {
		return
	}
	m := mark{measure: g.measure.Index, base: ev.Onset, seen: ev.Onset, says: []saying{{facet: saysWords, key: read.key}}}
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
func (s *sheet) addMetres(own *partMarks) {
	current, next := "", 0
	for _, m := range s.road.metres {
		for next < len(own.metres) && !after(own.metres[next].measure, own.metres[next].onset, m.measure, m.onset) {
			current = own.metres[next].says
			next++
		}
		if next > 0 && own.metres[next-1].measure == m.measure && own.metres[next-1].onset == m.onset {
			continue
		}
		if current != m.before || m.measure >= len(s.timeline.Measures) {
			continue
		}
		s.addMetre(m)
		current = m.says
	}
}

// after reports whether the first place lies behind the second.
func after(measure int, onset musicxml.Fraction, than int, at musicxml.Fraction) bool {
	if measure != than {
		return measure > than
	}
	return at.Less(onset)
}

func (s *sheet) addMetre(m metre) {
	attributes := s.attributesJustAt(m.measure, m.onset)
	if attributes == nil {
		s.warn(musicxml.Warning{Code: "metre-not-placed", Measure: s.timeline.Measures[m.measure].Number,
			Text: "the time signature changes inside a note of this part; it was not written"})
		return
	}
	musicxml.AddInOrder(attributes, m.element.Copy())
}
