package divisi

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// lineKinds are the directions with two ends.
var lineKinds = map[string]bool{
	"wedge": true, "dashes": true, "bracket": true, "octave-shift": true, "pedal": true, "principal-voice": true,
}

// mark is one element inside a <direction-type>, at its place.
type mark struct {
	*fixture
	element *etree.Element
}

// marksOf lists the marks of a direction.
func marksOf(f *fixture) []mark {
	var marks []mark
	for _, t := range musicxml.Children(f.element, "direction-type") {
		for _, e := range t.ChildElements() {
			marks = append(marks, mark{f, e})
		}
	}
	return marks
}

// line is a direction with two ends, and what continues it between them.
type line struct {
	marks []mark
}

// findLines pairs the ends of lines: by kind and number in one voice, else over
// the voices of the staff. A line that never ends, or never began, is a line of
// what there is of it.
func (d *division) findLines() []*line {
	var lines []*line
	open := map[spanKey]*line{}
	for _, b := range d.bars {
		for _, f := range b.fixed {
			if f.kind != musicxml.Direction {
				continue
			}
			for _, m := range marksOf(f) {
				if lineKinds[m.element.Tag] {
					lines = m.join(open, lines)
				}
			}
		}
	}
	return lines
}

// join adds a mark to the line that it is part of, or begins one.
func (m mark) join(open map[spanKey]*line, lines []*line) []*line {
	key := spanKey{m.element.Tag, numberOf(m.element), m.voice, m.staff}
	begins, ends := lineEnds(m.element)
	if l := open[key]; l == nil && !begins {
		key = otherLine(open, key)
	}
	l := open[key]
	if l == nil || begins {
		l = &line{}
		lines = append(lines, l)
		open[key] = l
	}
	l.marks = append(l.marks, m)
	if ends {
		delete(open, key)
	}
	return lines
}

// lineEnds reads what a mark is of its line.
func lineEnds(e *etree.Element) (begins, ends bool) {
	switch musicxml.Attr(e, "type") {
	case "stop", "discontinue":
		return false, true
	case "continue", "change", "resume":
		return false, false
	}
	return true, false
}

// otherLine finds an open line of that kind and number in another voice of the
// staff.
func otherLine(open map[spanKey]*line, key spanKey) spanKey {
	found := key
	for k, l := range open {
		if k.kind == key.kind && k.number == key.number && k.staff == key.staff && l != nil &&
			(found == key || voiceBefore(k.voice, found.voice)) {
			found = k
		}
	}
	return found
}

// start and stop are where a line begins and ends, from the start of the piece.
func (l *line) start() musicxml.Fraction { return l.marks[0].when() }
func (l *line) stop() musicxml.Fraction  { return l.marks[len(l.marks)-1].when() }

// when is where a fixture takes effect, from the start of the piece.
func (f *fixture) when() musicxml.Fraction { return f.bar.measure.Start.Add(f.onset) }
