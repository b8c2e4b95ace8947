package parts

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// numbering says how the bars are numbered from a measure on.
type numbering struct {
	measure int
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
func (s *sheet) numberBars() {
	if len(s.timeline.Measures) == 0 {
		return
	}
	for _, n := range s.road.numbering {
		if n.measure < len(s.timeline.Measures) {
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

// printOf finds or makes the <print> of a measure.
func (s *sheet) printOf(measure int) *etree.Element {
	m := s.timeline.Measures[measure].Element
	print := musicxml.Child(m, "print")
	if print == nil {
		print = etree.NewElement("print")
		m.InsertChildAt(0, print)
	}
	return print
}

// numberBySystem turns the numbering of every bar into that of every system, and
// takes out what relates the numbers to the staves of a score.
func (s *sheet) numberBySystem() {
	for i := range s.timeline.Measures {
		for _, print := range musicxml.Children(s.timeline.Measures[i].Element, "print") {
			n := musicxml.Child(print, "measure-numbering")
			if n == nil {
				continue
			}
			removeAttr(n, "system")
			removeAttr(n, "staff")
			if musicxml.Text(n) == "measure" {
				musicxml.SetText(n, "system")
			}
		}
	}
}
