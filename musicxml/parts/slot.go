package parts

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// slot is a place among a measure's children.
type slot struct {
	before *etree.Element    // what comes next there; nil at the end of the measure
	onset  musicxml.Fraction // the time there
}

// slotAt finds where in a measure something belongs that stands at a time: the
// first slot at that very time, behind attributes and a left bar line, or else the
// last one before it.
func slotAt(m *musicxml.Measure, at musicxml.Fraction) slot {
	var best slot
	var now musicxml.Fraction
	have := false
	for i := range m.Events {
		ev := &m.Events[i]
		switch {
		case goesFirst(ev):
			have = have && best.onset != now
		case !ev.Chord && (!have || best.closer(now, at)):
			best, have = slot{ev.Element, now}, true
		}
		next := timeAfter(ev, now)
		if next != now && have && best.onset == at {
			return best
		}
		now = next
	}
	if !have || best.closer(now, at) {
		best = slot{nil, now}
	}
	return best
}

// goesFirst reports whether an element comes before everything else of its moment.
func goesFirst(ev *musicxml.Event) bool {
	switch ev.Kind {
	case musicxml.Attributes, musicxml.Print:
		return true
	case musicxml.Barline:
		return locationOf(ev.Element) == "left"
	}
	return false
}

// closer reports whether a slot at now is nearer to the wanted time than s, from
// before.
func (s slot) closer(now, at musicxml.Fraction) bool {
	return s.onset != at && !at.Less(now) && s.onset.Less(now)
}

// timeAfter is where the element after an event stands.
func timeAfter(ev *musicxml.Event, now musicxml.Fraction) musicxml.Fraction {
	switch ev.Kind {
	case musicxml.Note:
		if !ev.Chord && !ev.Grace {
			return ev.Onset.Add(ev.Duration)
		}
	case musicxml.Forward:
		return ev.Onset.Add(ev.Duration)
	case musicxml.Backup:
		return ev.Onset.Sub(ev.Duration)
	}
	return now
}

// insertAt puts an element into a measure before another, or at its end.
func insertAt(measure *etree.Element, before, e *etree.Element) {
	if before == nil {
		measure.AddChild(e)
		return
	}
	measure.InsertChildAt(indexOf(measure, before), e)
}

func indexOf(parent, child *etree.Element) int {
	return slices.IndexFunc(parent.Child, func(t etree.Token) bool {
		e, ok := t.(*etree.Element)
		return ok && e == child
	})
}

// attributesJustAt finds or makes the <attributes> at a time; nil where the part has
// no place at that time.
func (s *sheet) attributesJustAt(measure int, at musicxml.Fraction) *etree.Element {
	m := &s.timeline.Measures[measure]
	for _, ev := range m.Events {
		if ev.Kind == musicxml.Attributes && ev.Onset == at {
			return ev.Element
		}
	}
	place := slotAt(m, at)
	if place.onset != at {
		return nil
	}
	attributes := etree.NewElement("attributes")
	insertAt(m.Element, firstAt(m, place), attributes)
	m.Events = append(m.Events, musicxml.Event{Element: attributes, Kind: musicxml.Attributes, Onset: at})
	return attributes
}

// firstAt goes back from a slot over what stands at the same moment without
// taking time, so that attributes come before directions.
func firstAt(m *musicxml.Measure, place slot) *etree.Element {
	i := len(m.Events)
	if place.before != nil {
		i = slices.IndexFunc(m.Events, func(ev musicxml.Event) bool { return ev.Element == place.before })
	}
	first := place.before
	for i--; i >= 0; i-- {
		switch m.Events[i].Kind {
		case musicxml.Direction, musicxml.Harmony, musicxml.Sound, musicxml.FiguredBass:
			first = m.Events[i].Element
		default:
			return first
		}
	}
	return first
}

// insertInside puts an element at a time inside the measure: at a slot there, or
// at the measure's end with the time turned back and forth around it.
func (s *sheet) insertInside(m *musicxml.Measure, at musicxml.Fraction, e *etree.Element) {
	if place := slotAt(m, at); place.onset == at {
		insertAt(m.Element, place.before, e)
		return
	}
	back := m.Length.Sub(at)
	if back.Sign() <= 0 || timeAtEnd(m) != m.Length {
		m.Element.AddChild(e)
		return
	}
	end := lastBarline(m)
	text := s.inDivisions(m.Index, end, back)
	for _, c := range []*etree.Element{turn("backup", text), e, turn("forward", text)} {
		insertAt(m.Element, end, c)
	}
}

func turn(tag, duration string) *etree.Element {
	e := etree.NewElement(tag)
	e.CreateElement("duration").SetText(duration)
	return e
}

// timeAtEnd is the time at which the measure's last child stands.
func timeAtEnd(m *musicxml.Measure) musicxml.Fraction {
	var now musicxml.Fraction
	for i := range m.Events {
		now = timeAfter(&m.Events[i], now)
	}
	return now
}

// lastBarline is the right bar line that closes a measure, nil without.
func lastBarline(m *musicxml.Measure) *etree.Element {
	for i := len(m.Events) - 1; i >= 0; i-- {
		if ev := &m.Events[i]; ev.Kind == musicxml.Barline && locationOf(ev.Element) == "right" {
			return ev.Element
		}
	}
	return nil
}
