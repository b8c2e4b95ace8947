package system

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/draft"
)

// pause is a fermata: on a note or rest from onset to end, in quarter notes from
// the start of the measure.
type pause struct {
	musicxml.Position
	end     musicxml.Fraction
	element *etree.Element // a copy of the fermata
}

// caesura is a break of everybody after what ends at that place.
type caesura struct {
	musicxml.Position
	element *etree.Element // a copy
}

// pauseAt keeps the fermata and the caesura on a note or rest.
func (g *gatherer) pauseAt(ev *musicxml.Event) {
	end := ev.Onset.Add(ev.Duration)
	for n := range musicxml.Each(ev.Element, "notations") {
		if f := musicxml.Child(n, "fermata"); f != nil {
			g.pauses = append(g.pauses, pause{g.at(ev.Onset), end, g.keep(f)})
		}
		if c := musicxml.Descend(n, "articulations", "caesura"); c != nil {
			g.caesuras = append(g.caesuras, caesura{g.at(end), g.keep(c)})
		}
	}
}

// overlaps reports whether two pauses are one: both last at some moment of the
// bar. In one part a held note and in another a rest may carry it.
func (p pause) overlaps(q pause) bool {
	return p.Measure == q.Measure && (p.Onset == q.Onset || p.Onset.Less(q.end) && q.Onset.Less(p.end))
}

// joinPauses adds the pauses of one part to those of the system. Of pauses that
// overlap the latest and shortest tells where everybody stops.
func joinPauses(road, own []pause) []pause {
	for _, p := range own {
		known := false
		for i := range road {
			if road[i].overlaps(p) {
				known = true
				road[i].Onset = road[i].Onset.Max(p.Onset)
				if p.end.Less(road[i].end) && road[i].Onset.Less(p.end) {
					road[i].end = p.end
				}
			}
		}
		if !known {
			road = append(road, p)
		}
	}
	return road
}

// addPauses puts the pauses of other parts on the rests of this one, and on a note
// that it holds through the pause. Where it plays on meanwhile, only the person who
// looks at the warning can tell (harris s.50; gehrkens-mnt s.36-44).
func (s *adder) addPauses(own *PartMarks) {
	for _, p := range s.road.pauses {
		if p.Measure >= len(s.Timeline.Measures) || hasPause(own.pauses, p) || s.pausesOnBarline(p) {
			continue
		}
		m := &s.Timeline.Measures[p.Measure]
		switch ev := resting(m, p); {
		case ev == nil:
			s.warnPlaysOn(m, p.Onset)
		default:
			music.AddNotation(ev.Element, draft.Upright(p.element))
			ev.Marked = true
			own.pauses = append(own.pauses, lasting(p.Measure, ev)) // of two in one rest it has one
		}
	}
}

func hasPause(pauses []pause, p pause) bool {
	return slices.ContainsFunc(pauses, func(own pause) bool { return own.overlaps(p) })
}

// pausesOnBarline reports whether the part has the pause on the bar line already.
func (s *adder) pausesOnBarline(p pause) bool {
	m := &s.Timeline.Measures[p.Measure]
	for _, ev := range m.Events {
		if ev.Kind == musicxml.Barline && draft.LocationOf(ev.Element) != "left" && musicxml.Child(ev.Element, "fermata") != nil {
			return !p.end.Less(m.Length)
		}
	}
	return false
}

func (s *adder) warnPlaysOn(m *musicxml.Measure, onset musicxml.Fraction) {
	s.Warn(musicxml.Warning{Code: notice.PauseElsewhere, Measure: m.Number, Beat: m.Beat(onset),
		Text: "other parts have a pause here while this one plays on; none was added"})
}

// resting finds the rest, or the note held throughout, that can carry a pause: the
// last that lasts into it. Nil where notes move meanwhile.
func resting(m *musicxml.Measure, p pause) *musicxml.Event {
	var found *musicxml.Event
	sounding := 0
	for ev := range m.Each(musicxml.Note) {
		if ev.Chord || ev.Grace || ev.Cue {
			continue
		}
		if !lasting(p.Measure, ev).overlaps(p) {
			continue
		}
		if !ev.Rest {
			sounding++
		}
		if found == nil || found.Onset.Less(ev.Onset) || found.Onset == ev.Onset && found.Rest && !ev.Rest {
			found = ev
		}
	}
	if found != nil && !found.Rest && (sounding > 1 || found.Onset.Add(found.Duration).Less(p.end)) {
		return nil
	}
	return found
}

// lasting is a pause all through a note or rest.
func lasting(measure int, ev *musicxml.Event) pause {
	return pause{Position: musicxml.Position{Measure: measure, Onset: ev.Onset}, end: ev.Onset.Add(ev.Duration)}
}

// addCaesuras puts the caesuras of other parts after the note or rest that ends
// there.
func (s *adder) addCaesuras(own *PartMarks) {
	for _, c := range s.road.caesuras {
		if c.Measure >= len(s.Timeline.Measures) || hasCaesura(own.caesuras, c) {
			continue
		}
		m := &s.Timeline.Measures[c.Measure]
		if ev := endingAt(m, c.Onset); ev != nil {
			addArticulation(ev.Element, c.element.Copy())
			ev.Marked = true
		} else {
			s.warnPlaysOn(m, c.Onset)
		}
	}
}

func hasCaesura(caesuras []caesura, c caesura) bool {
	return slices.ContainsFunc(caesuras, func(own caesura) bool { return own.Position == c.Position })
}

// endingAt finds the note that ends at a place, or the rest that reaches it.
func endingAt(m *musicxml.Measure, at musicxml.Fraction) *musicxml.Event {
	for ev := range m.Each(musicxml.Note) {
		if ev.Chord || ev.Grace || ev.Cue {
			continue
		}
		end := ev.Onset.Add(ev.Duration)
		if end == at || ev.Rest && ev.Onset.Less(at) && at.Less(end) {
			return ev
		}
	}
	return nil
}

func addArticulation(note, e *etree.Element) {
	if articulations := musicxml.Descend(note, "notations", "articulations"); articulations != nil {
		articulations.AddChild(e)
		return
	}
	articulations := etree.NewElement("articulations")
	articulations.AddChild(e)
	music.AddNotation(note, articulations)
}
