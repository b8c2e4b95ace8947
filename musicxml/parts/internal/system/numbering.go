package system

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
)

// numbering says how the bars are numbered from a measure on.
type numbering struct {
	measure int            // from 0
	element *etree.Element // a copy
}

// print keeps how bars are numbered.
func (g *gatherer) print(ev *musicxml.Event) {
	if e := musicxml.Child(ev.Element, "measure-numbering"); e != nil {
		g.numbering = append(g.numbering, numbering{g.measure.Index, g.keep(e)})
	}
}

// numberBars has the bars numbered at each system, as a part has them (mmf; every
// bar is for scores: mola-forum), and says what the score says of them elsewhere.
func (s *adder) numberBars() {
	if len(s.Timeline.Measures) == 0 {
		return
	}
	for _, n := range s.road.numbering {
		if n.measure < len(s.Timeline.Measures) {
			print := s.printOf(n.measure)
			if musicxml.Child(print, "measure-numbering") == nil {
				musicxml.AddInOrder(print, n.element.Copy())
			}
		}
	}
	first := musicxml.SetChildText(s.printOf(0), "measure-numbering", "system")
	for _, key := range []string{"multiple-rest-always", "multiple-rest-range"} {
		if musicxml.Attr(first, key) == "" {
			first.CreateAttr(key, "yes")
		}
	}
	s.numberBySystem()
}

// printOf finds or makes the <print> of a measure, that which says how bars are numbered
// if there are several.
func (s *adder) printOf(measure int) *etree.Element {
	m := s.Timeline.Measures[measure].Element
	prints := musicxml.Children(m, "print")
	for _, print := range prints {
		if musicxml.Child(print, "measure-numbering") != nil {
			return print
		}
	}
	if len(prints) > 0 {
		return prints[0]
	}
	print := etree.NewElement("print")
	m.InsertChildAt(0, print)
	return print
}

// numberBySystem turns the numbering of every bar into that of every system, and
// takes out what relates the numbers to the staves of a score.
func (s *adder) numberBySystem() {
	for _, n := range musicxml.Along(s.Part, "measure", "print", "measure-numbering") {
		draft.RemoveAttr(n, "system")
		draft.RemoveAttr(n, "staff")
		if musicxml.Text(n) == "measure" {
			musicxml.SetText(n, "system")
		}
	}
}
