package system

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/draft"
)

// partMetres is what one part needs so that every change of time is in it, where it is,
// once and printed.
type partMetres struct {
	add  []metre             // that only other parts state
	show []musicxml.Position // that the part hides and another prints
	drop []musicxml.Position // that the part states after another has stated it
}

// joinMetres follows the time signatures through all parts at once. A part that states
// none at a place takes over the change of a part that was in the same time as it: parts
// may state changes in turn, and one that goes its own way, in another time, is left
// alone. What states again the time that holds is no change, but at the head of a
// movement, where everybody is told.
func joinMetres(marks []*PartMarks, movements map[int]bool) []partMetres {
	f := follower{parts: make([]partMetres, len(marks)), current: make([]string, len(marks)), taken: make([]bool, len(marks)), movements: movements}
	for _, at := range placesOfMetres(marks) {
		f.follow(at, metresAt(marks, at))
	}
	return f.parts
}

// follower keeps the time that each part is in.
type follower struct {
	parts   []partMetres
	current []string
	taken   []bool // it was taken over from another part
	// movements are the bars at the head of which a movement begins.
	movements map[int]bool
}

// movementsOf finds the bars in which a movement begins: it has a number, or the bar
// before ends with a final barline.
func (r *Marks) movementsOf() map[int]bool {
	begins := map[int]bool{}
	for i := range r.marks {
		for _, s := range r.marks[i].says {
			if s.movement {
				begins[r.marks[i].Measure] = true
			}
		}
	}
	for _, b := range r.barlines {
		if b.location == "right" && musicxml.ChildText(b.element, "bar-style") == "light-heavy" && musicxml.Child(b.element, "repeat") == nil {
			begins[b.Measure+1] = true
		}
	}
	return begins
}

// placesOfMetres lists the places of all statements in order.
func placesOfMetres(marks []*PartMarks) []musicxml.Position {
	var places []musicxml.Position
	for _, own := range marks {
		for _, m := range own.metres {
			places = append(places, m.Position)
		}
	}
	slices.SortFunc(places, musicxml.Position.Compare)
	return slices.Compact(places)
}

// metresAt is what each part states at a place, nil where it states nothing.
func metresAt(marks []*PartMarks, at musicxml.Position) []*metre {
	stated := make([]*metre, len(marks))
	for i, own := range marks {
		for k := range own.metres {
			if own.metres[k].Position == at {
				stated[i] = &own.metres[k]
			}
		}
	}
	return stated
}

// follow takes in what is stated at one place.
func (f *follower) follow(at musicxml.Position, stated []*metre) {
	before := slices.Clone(f.current)
	anew := at.Onset.Sign() == 0 && f.movements[at.Measure]
	for i, m := range stated {
		p := &f.parts[i]
		switch {
		case m == nil:
			if from := change(stated, before, before[i], anew); from != nil {
				p.add = append(p.add, *from)
				f.current[i], f.taken[i] = from.says, true
			}
		case m.says == before[i] && f.taken[i] && !anew:
			p.drop = append(p.drop, at)
		default:
			if from := change(stated, before, before[i], anew); from != nil && m.hidden && !from.hidden && from.says == m.says {
				p.show = append(p.show, at)
			}
			f.current[i], f.taken[i] = m.says, false
		}
	}
}

// change finds what the parts that were in a time change to, or at the head of a movement
// (anew) what they say again: a statement that is printed
// before a hidden one. nil means that none of them changes.
func change(stated []*metre, before []string, from string, anew bool) *metre {
	var found *metre
	for i, m := range stated {
		if m != nil && before[i] == from && (m.says != from || anew) && (found == nil || found.hidden && !m.hidden && m.says == found.says) {
			found = m
		}
	}
	return found
}

// addMetres writes the time signatures that only other parts state, and shows those that
// another part prints.
func (s *adder) addMetres() {
	own := &s.road.metres[s.Assignment.Part]
	for _, m := range own.add {
		if m.Measure < len(s.Timeline.Measures) {
			s.addMetre(m)
		}
	}
	for _, at := range own.show {
		for _, time := range s.timesAt(at) {
			time.RemoveAttr("print-object")
		}
	}
}

// dropMetres takes out the time signatures that were stated before.
func (s *adder) dropMetres() {
	for _, at := range s.road.metres[s.Assignment.Part].drop {
		for _, time := range s.timesAt(at) {
			draft.DropAttribute(time)
		}
	}
}

// timesAt lists the time signatures that the part itself states at a place.
func (s *adder) timesAt(at musicxml.Position) []*etree.Element {
	var times []*etree.Element
	for _, ev := range s.Timeline.Measures[at.Measure].Events {
		if ev.Kind == musicxml.Attributes && ev.Onset == at.Onset {
			times = append(times, musicxml.Children(ev.Element, "time")...)
		}
	}
	return times
}

func (s *adder) addMetre(m metre) {
	attributes := s.AttributesJustAt(m.Position)
	if attributes == nil {
		s.Warn(musicxml.Warning{Code: notice.MetreNotPlaced, Measure: s.Timeline.Measures[m.Measure].Number,
			Text: "the time signature changes inside a note of this part; it was not written"})
		return
	}
	musicxml.AddInOrder(attributes, m.element.Copy())
}
