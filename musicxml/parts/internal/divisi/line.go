package divisi

import (
	"cmp"
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

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

// findLines pairs the ends of lines in the order of time: by kind and number in
// one voice, else over the voices of the staff. A line that never ends, or never
// began, is a line of what there is of it.
func (d *division) findLines() []*line {
	var lines []*line
	open := map[spanKey]*line{}
	for _, m := range d.lineMarks() {
		lines = m.join(open, lines)
	}
	return shareEnds(lines)
}

// shareEnds lets a line that never ends have the end of one of its kind that began
// at the same moment: two voices may have one end written for both.
func shareEnds(lines []*line) []*line {
	for i, l := range lines {
		if l.ended() || !l.begun() {
			continue
		}
		near := lines[max(0, i-maxTwins):min(len(lines), i+maxTwins+1)]
		if k := slices.IndexFunc(near, func(other *line) bool {
			return other.ended() && other.begun() && other.marks[0].element.Tag == l.marks[0].element.Tag && other.start() == l.start()
		}); k >= 0 {
			l.marks = append(l.marks, near[k].marks[len(near[k].marks)-1])
		}
	}
	return lines
}

// maxTwins bounds the lines that begin at one moment.
const maxTwins = 16

func (l *line) ended() bool {
	_, ends := lineEnds(l.marks[len(l.marks)-1].element)
	return ends
}

func (l *line) begun() bool {
	begins, _ := lineEnds(l.marks[0].element)
	return begins
}

// lineMarks lists the marks of lines in the order of time; at one moment those
// that end a line come first.
func (d *division) lineMarks() []mark {
	var all []mark
	for _, b := range d.bars {
		for _, f := range b.fixed {
			if f.kind != musicxml.Direction {
				continue
			}
			for _, m := range marksOf(f) {
				if music.IsLine(m.element) {
					all = append(all, m)
				}
			}
		}
	}
	slices.SortStableFunc(all, func(a, b mark) int { return cmp.Or(a.when().Cmp(b.when()), a.rank()-b.rank()) })
	return all
}

// rank orders the marks of one moment: what ends a line, then what goes on or begins.
func (m mark) rank() int {
	if _, ends := lineEnds(m.element); ends {
		return 0
	}
	return 1
}

// join adds a mark to the line that it is part of, or begins one.
func (m mark) join(open map[spanKey]*line, lines []*line) []*line {
	key := spanKey{m.element.Tag, numberOf(m.element), m.voice, m.staff}
	begins, ends := lineEnds(m.element)
	if l := open[key]; l == nil && !begins {
		key = otherVoice(open, key, func(l *line) bool { return l != nil })
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

// start and stop are where a line begins and ends, from the start of the piece.
func (l *line) start() musicxml.Fraction { return l.marks[0].when() }
func (l *line) stop() musicxml.Fraction  { return l.marks[len(l.marks)-1].when() }

// when is where a fixture takes effect, from the start of the piece.
func (f *fixture) when() musicxml.Fraction { return f.bar.measure.Start.Add(f.onset) }
