package draft

import (
	"cmp"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// Slot is a place among a measure's children.
type Slot struct {
	Before *etree.Element    // what comes next there; nil at the end of the measure
	Onset  musicxml.Fraction // the time there
}

// SlotAt finds where in a measure something belongs that stands at a time: the
// first slot at that very time, behind attributes and a left bar line, or else the
// last one before it.
func SlotAt(m *musicxml.Measure, at musicxml.Fraction) Slot {
	var best Slot
	var now musicxml.Fraction
	have := false
	for i := range m.Events {
		ev := &m.Events[i]
		switch {
		case goesFirst(ev):
			have = have && best.Onset != now
		case !ev.Chord && (!have || best.closer(now, at)):
			best, have = Slot{ev.Element, now}, true
		}
		next := ev.After(now)
		if next != now && have && best.Onset == at {
			return best
		}
		now = next
	}
	if !have || best.closer(now, at) {
		best = Slot{nil, now}
	}
	return best
}

// goesFirst reports whether an element comes before everything else of its moment.
func goesFirst(ev *musicxml.Event) bool {
	switch ev.Kind {
	case musicxml.Attributes, musicxml.Print:
		return true
	case musicxml.Barline:
		return LocationOf(ev.Element) == "left"
	}
	return false
}

// closer reports whether a slot at now is nearer to the wanted time than s, from
// before.
func (s Slot) closer(now, at musicxml.Fraction) bool {
	return s.Onset != at && !at.Less(now) && s.Onset.Less(now)
}

// Insert puts an element into a measure before another, or at its end.
func (s *Draft) Insert(m *musicxml.Measure, before, e *etree.Element) {
	s.Rearranged()
	if before == nil {
		m.Element.AddChild(e)
		return
	}
	m.Element.InsertChildAt(before.Index(), e)
}

// AttributesJustAt finds or makes the <attributes> at a time; nil where the part has
// no place at that time.
func (s *Draft) AttributesJustAt(at musicxml.Position) *etree.Element {
	m := &s.Timeline.Measures[at.Measure]
	for _, ev := range m.Events {
		if ev.Kind == musicxml.Attributes && ev.Onset == at.Onset {
			return ev.Element
		}
	}
	place := SlotAt(m, at.Onset)
	if place.Onset != at.Onset {
		return nil
	}
	attributes := etree.NewElement("attributes")
	s.Insert(m, place.Before, attributes)
	m.Events = append(m.Events, musicxml.Event{Element: attributes, Kind: musicxml.Attributes, Onset: at.Onset})
	return attributes
}

// AttributesAt finds or makes the <attributes> at a place of the part.
func (s *Draft) AttributesAt(at musicxml.Position) *etree.Element {
	m := &s.Timeline.Measures[at.Measure]
	for ev := range m.Each(musicxml.Attributes) {
		if ev.Onset == at.Onset {
			return ev.Element
		}
	}
	e := etree.NewElement("attributes")
	m.Element.InsertChildAt(m.InsertionPoint(at.Onset), e)
	s.Rearranged()
	return e
}

// InsertInside puts an element at a time inside the measure: at a slot there, or
// at the measure's end with the time turned back and forth around it.
func (s *Draft) InsertInside(m *musicxml.Measure, at musicxml.Fraction, e *etree.Element) {
	if place := SlotAt(m, at); place.Onset == at {
		s.Insert(m, place.Before, e)
		return
	}
	if m.Length.Less(at) || timeAtEnd(m) != m.Length {
		s.Insert(m, nil, e)
		return
	}
	end := LastBarline(m)
	text := s.InDivisions(m.Index, end, m.Length.Sub(at))
	for _, c := range []*etree.Element{Turn("backup", text), e, Turn("forward", text)} {
		s.Insert(m, end, c)
	}
}

// Turn makes a <backup> or <forward> of so many divisions.
func Turn(tag, duration string) *etree.Element {
	e := etree.NewElement(tag)
	e.CreateElement("duration").SetText(duration)
	return e
}

// timeAtEnd is the time at which the measure's last child stands.
func timeAtEnd(m *musicxml.Measure) musicxml.Fraction {
	var now musicxml.Fraction
	for i := range m.Events {
		now = m.Events[i].After(now)
	}
	return now
}

// LastBarline is the right bar line that closes a measure, nil without.
func LastBarline(m *musicxml.Measure) *etree.Element {
	for i := len(m.Events) - 1; i >= 0; i-- {
		if ev := &m.Events[i]; ev.Kind == musicxml.Barline && LocationOf(ev.Element) == "right" {
			return ev.Element
		}
	}
	return nil
}

// LocationOf is where a <barline> stands in its measure: left, middle or right;
// without a word it is the right (MusicXML 4.0, barline).
func LocationOf(e *etree.Element) string { return cmp.Or(musicxml.Attr(e, "location"), "right") }
