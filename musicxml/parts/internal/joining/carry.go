package joining

import (
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
)

// Unsaid is what the score says to a player over the rest of a staff while the player has
// another, and which no entry on that staff follows.
type Unsaid struct {
	At    musicxml.Position
	Staff int // place among the staves
	Text  string
}

// carry brings words and the like that stand over the rest of a staff, while the player has
// another, to where the player comes back to it: they prepare what is played there. Where
// the player does not come back they are noted.
func (r *row) carry() {
	before := map[*musicxml.Measure]int{} // where in a bar the next goes
	for i, m := range r.music {
		for k := range m.timeline.Measures {
			measure := &m.timeline.Measures[k]
			for _, ev := range slices.Clone(measure.Events) {
				at := musicxml.Position{Measure: k, Onset: ev.Onset}
				if ev.Kind == musicxml.Direction && !draft.ForAll(ev.Element) && !r.seen(i, &ev, at) {
					r.carryMark(i, &ev, at, before)
				}
			}
		}
	}
}

// seen reports whether the player sees a direction of a staff: has the staff there, or reads
// the same over the other.
func (r *row) seen(staff int, ev *musicxml.Event, at musicxml.Position) bool {
	has := r.stretches[r.stretchOf(at)].staff
	if has == staff || at.Measure >= len(r.frames) {
		return true
	}
	m := r.music[has].measure(at.Measure)
	return m != nil && says(m, ev)
}

// says reports whether a bar has a direction of the same content at the same time.
func says(m *musicxml.Measure, ev *musicxml.Event) bool {
	return slices.ContainsFunc(m.Events, func(own musicxml.Event) bool {
		return own.Onset == ev.Onset && musicxml.Content(own.Element) == musicxml.Content(ev.Element)
	})
}

func (r *row) carryMark(staff int, ev *musicxml.Event, at musicxml.Position, before map[*musicxml.Measure]int) {
	said := withoutLines(ev.Element)
	if said == nil {
		return
	}
	m := r.music[staff]
	m.gone[ev.Element] = true
	for _, s := range r.stretches[r.stretchOf(at)+1:] {
		if s.staff != staff {
			continue
		}
		measure := m.measure(s.from.Measure)
		if measure == nil {
			break
		}
		place, ok := before[measure]
		if !ok {
			place = slices.IndexFunc(measure.Events, func(ev musicxml.Event) bool {
				return ev.Kind != musicxml.Attributes && ev.Kind != musicxml.Print && ev.Kind != musicxml.Barline
			})
		}
		place = max(place, 0)
		measure.Events = slices.Insert(slices.Clone(measure.Events), place, musicxml.Event{Element: said, Kind: musicxml.Direction, Onset: s.from.Onset, Staff: ev.Staff})
		before[measure] = place + 1
		return
	}
	r.unsaid = append(r.unsaid, Unsaid{at, staff, textOf(said)})
}

// withoutLines copies a direction without lines, which have nothing to stand under; nil where
// nothing else is in it.
func withoutLines(direction *etree.Element) *etree.Element {
	said := direction.Copy()
	musicxml.RemoveChildren(said, "offset")
	for _, t := range musicxml.Children(said, "direction-type") {
		musicxml.RemoveChildren(t, spans...)
		if len(t.ChildElements()) == 0 {
			said.RemoveChild(t)
		}
	}
	if musicxml.Child(said, "direction-type") == nil {
		return nil
	}
	return said
}

// textOf names what a direction says: its words, dynamics as they are printed, signs by their
// names in the standard.
func textOf(direction *etree.Element) string {
	var all []string
	for t := range musicxml.Each(direction, "direction-type") {
		for e := range t.ChildElementsSeq() {
			text := strings.ReplaceAll(e.Tag, "-", " ")
			switch e.Tag {
			case "words", "rehearsal":
				text = "“" + musicxml.Text(e) + "”"
			case "dynamics":
				if first := e.ChildElements(); len(first) > 0 && first[0].Tag != "other-dynamics" {
					text = first[0].Tag
				}
			}
			all = append(all, text)
		}
	}
	return strings.Join(all, ", ")
}
