package system

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/transpose"
)

// Add writes into the part what holds for all players and stands in
// another part of the score: once, at its bar and beat.
func (r *Marks) Add(d *draft.Draft, words *lexicon.Glossary) error {
	s := &adder{d, r}
	s.EnsureDivisions()
	own := Gather(s.Timeline, words, true)
	s.addMetres()
	s.addBarlines()
	s.addPauses(own)
	s.addCaesuras(own)
	s.addMarks(own)
	s.numberBars()
	s.freeOfSystem()
	s.dropMetres() // last: what is added stands beside elements that are there
	s.Rearranged()
	return nil
}

// adder writes into a part what all parts share.
type adder struct {
	*draft.Draft
	road *Marks
}

// addMarks writes directions, sounds and chord symbols.
func (s *adder) addMarks(own *PartMarks) {
	p := placer{adder: s, known: newMatcher(own.marks, s.Survey.Measures), numbers: lineNumbers(s.Part)}
	missing := p.known.match(s.road.marks)
	for i := range s.road.marks {
		if m := &s.road.marks[i]; missing[i] != 0 && m.Measure < len(s.Timeline.Measures) {
			p.place(m.only(missing[i]))
		}
	}
}

// placer writes marks into a part.
type placer struct {
	*adder
	known   *matcher
	numbers map[string]bool // of lines that the part has, by tag and number
}

func (p *placer) place(m mark) {
	switch {
	case m.harmony != nil:
		e := moveSymbol(m.harmony, transpose.Transposition{}, p.Survey.SourceAt(m.Measure)) // it then moves with the part
		p.OnTopStaff(e)
		p.insert(m, e)
	case m.direction != nil && musicxml.Child(m.direction, "direction-type") != nil:
		p.placeDirection(m)
	case m.sound != nil:
		p.insert(m, p.soundOf(m))
	}
}

// placeDirection writes a direction with its <sound> and the end of its line.
func (p *placer) placeDirection(m mark) {
	e := p.Slabs.Copy(m.direction)
	if sound := p.soundOf(m); sound != nil {
		musicxml.AddInOrder(e, sound)
	}
	p.OnTopStaff(e)
	if m.line == nil || m.line.to.Measure >= len(p.Timeline.Measures) {
		dropLines(e)
		p.insert(m, e)
		return
	}
	number := p.freeNumber(m.line.tag)
	for _, t := range musicxml.Children(e, "direction-type") {
		if l := lineIn(t); l != nil {
			l.CreateAttr("number", number)
		}
	}
	p.insert(m, e)
	p.placeStop(m, number)
}

// placeStop writes the end of a mark's line.
func (p *placer) placeStop(m mark, number string) {
	stop := p.Slabs.Copy(m.line.stop)
	stop.CreateAttr("number", number)
	e := etree.NewElement("direction")
	if placement := musicxml.Attr(m.direction, "placement"); placement != "" {
		e.CreateAttr("placement", placement)
	}
	e.CreateElement("direction-type").AddChild(stop)
	p.OnTopStaff(e)
	p.insert(mark{Position: m.line.to, seen: m.line.to.Onset}, e)
}

// freeNumber finds a number that no line of the part has.
func (p *placer) freeNumber(tag string) string {
	n := 1
	for n < draft.MostLines && p.numbers[tag+strconv.Itoa(n)] {
		n++
	}
	number := strconv.Itoa(n)
	p.numbers[tag+number] = true
	return number
}

// lineNumbers lists the numbers of the part's own lines.
func lineNumbers(part *etree.Element) map[string]bool {
	numbers := map[string]bool{}
	for _, t := range musicxml.Along(part, "measure", "direction", "direction-type") {
		if l := lineIn(t); l != nil {
			numbers[l.Tag+lineNumber(l)] = true
		}
	}
	return numbers
}

// soundOf copies a mark's <sound>; its divisions are those of this part.
func (p *placer) soundOf(m mark) *etree.Element {
	if m.sound == nil {
		return nil
	}
	sound := p.Slabs.Copy(m.sound)
	if musicxml.Attr(sound, "divisions") != "" {
		sound.CreateAttr("divisions", draft.Decimal(p.DivisionsBefore(m.Measure, nil)))
	}
	return sound
}

// insert puts a mark's element at its place. Where nothing of the part begins at
// that time the element stands before it and says how far away it belongs.
func (p *placer) insert(m mark, e *etree.Element) {
	measure := &p.Timeline.Measures[m.Measure]
	at := draft.SlotAt(measure, m.Onset)
	if offset := m.seen.Sub(at.Onset); offset.Sign() != 0 && !measure.Length.Less(m.seen) {
		o := etree.NewElement("offset")
		o.SetText(p.InDivisions(m.Measure, at.Before, offset))
		if e.Tag == "direction" && at.Onset != m.Onset {
			o.CreateAttr("sound", "yes")
		}
		musicxml.AddInOrder(e, o)
	}
	p.Insert(measure, at.Before, e)
}

// freeOfSystem takes out what relates the part's own marks to a system: in a part
// a mark of the system appears once (MusicXML 4.0, system-relation).
func (s *adder) freeOfSystem() {
	for i := range s.Timeline.Measures {
		for k := range s.Timeline.Measures[i].Events {
			switch ev := &s.Timeline.Measures[i].Events[k]; ev.Kind {
			case musicxml.Direction, musicxml.Harmony:
				draft.RemoveAttr(ev.Element, "system")
			}
		}
	}
}
