package system

import (
	"cmp"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
)

// lineIn returns the dashes or bracket of a direction type, nil where it has none.
func lineIn(directionType *etree.Element) *etree.Element {
	return cmp.Or(musicxml.Child(directionType, "dashes"), musicxml.Child(directionType, "bracket"))
}

// lineNumber is the number that tells lines of one kind apart, "1" where absent.
func lineNumber(e *etree.Element) string { return cmp.Or(musicxml.Attr(e, "number"), "1") }

// lines follows the lines of the part: it ends those that stop in this direction,
// and gives one that starts alone beside a mark's words to that mark.
func (g *gatherer) lines(ev *musicxml.Event) {
	for t := range musicxml.Each(ev.Element, "direction-type") {
		switch e := lineIn(t); {
		case e == nil:
		case musicxml.Attr(e, "type") == "stop":
			g.stopLine(e)
		case musicxml.Attr(e, "type") == "start":
			g.startAlone(ev.Element, t)
		}
	}
}

func (g *gatherer) stopLine(e *etree.Element) {
	for i, l := range g.open {
		if l.tag == e.Tag && l.number == lineNumber(e) {
			l.to = g.at(g.now)
			l.stop = g.keep(e)
			g.open = append(g.open[:i], g.open[i+1:]...)
			return
		}
	}
}

// startLine opens the line that starts in the mark's own direction.
func (g *gatherer) startLine(m *mark) {
	for _, t := range musicxml.Children(m.direction, "direction-type") {
		e := lineIn(t)
		switch {
		case e == nil:
		case musicxml.Attr(e, "type") != "start" || m.line != nil:
			m.direction.RemoveChild(t)
		default:
			m.line = g.openLine(e)
		}
	}
}

func (g *gatherer) openLine(e *etree.Element) *line {
	l := &line{tag: e.Tag, number: lineNumber(e)}
	g.open = append(g.open, l)
	return l
}

// startAlone gives a line that starts in a direction of its own, with nothing
// else, to the words just before it.
func (g *gatherer) startAlone(direction, directionType *etree.Element) {
	if g.own || len(g.marks) == 0 || len(musicxml.Children(direction, "direction-type")) > 1 {
		return
	}
	m := &g.marks[len(g.marks)-1]
	if m.Position != g.at(g.now) || m.line != nil || m.direction == nil || m.facets()&saysWords == 0 {
		return
	}
	t := directionType.Copy()
	draft.RemoveIDs(t)
	musicxml.AddInOrder(m.direction, t)
	m.line = g.openLine(lineIn(t))
}

// closeLines forgets lines that never stop.
func (g *gatherer) closeLines() {
	for i := range g.marks {
		if m := &g.marks[i]; m.line != nil && m.line.stop == nil {
			m.line = nil
		}
	}
}
