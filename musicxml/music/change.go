package music

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// Change is a child of <attributes>, which holds from its place on: <clef>, <key>,
// <time>, <transpose>, <staff-details>, <measure-style>, <for-part> and the others.
type Change struct {
	Element *etree.Element
	Event   *musicxml.Event   // the <attributes>
	Measure int               // index, from 0
	Onset   musicxml.Fraction // from the start of the measure
	Order   int               // of the event within its measure
	// Staff counts from 1 at the top; 0 is all staves. A clef without a number is the
	// first staff's (MusicXML 4.0, clef).
	Staff  int
	Hidden bool // it is in force and not printed
}

// changes notes the children of an <attributes>.
func (r *reader) changes(m *musicxml.Measure, ev *musicxml.Event, order int) {
	for _, token := range ev.Element.Child {
		e, ok := token.(*etree.Element)
		if !ok || e.Space != "" {
			continue
		}
		c := Change{Element: e, Event: ev, Measure: m.Index, Onset: ev.Onset, Order: order, Staff: StaffNumber(e), Hidden: hidden(e)}
		switch e.Tag {
		case "staves":
			r.Staves = max(r.Staves, min(wholeText(e), mostStaves))
		case "clef":
			c.Staff = max(c.Staff, 1)
		}
		r.Changes = append(r.Changes, c)
	}
}

// For reports whether the change is for a staff, counted from 1.
func (c *Change) For(staff int) bool { return c.Staff == 0 || c.Staff == staff }

// holdsFor reports whether the change is in force for a note of its measure: at one moment
// it holds for all but the grace notes written before it.
func (c *Change) holdsFor(n *Note, order int) bool {
	if c.Onset != n.Onset {
		return c.Onset.Less(n.Onset)
	}
	return !n.Grace || c.Order < order
}

// First returns the first change of that name in the document, additional clefs aside; nil
// where there is none.
func (p *Part) First(tag string) *Change {
	for i := range p.Changes {
		if e := p.Changes[i].Element; e.Tag == tag && !IsAdditional(e) {
			return &p.Changes[i]
		}
	}
	return nil
}

// At returns the change of that name ("clef", "key", "time", …) that is in force on a
// staff, counted from 1, at a place; nil where there is none. What comes at the place
// itself is in force; an additional clef is not.
func (p *Part) At(tag string, staff, measure int, onset musicxml.Fraction) *Change {
	var found *Change
	for i := range p.Changes {
		c := &p.Changes[i]
		switch {
		case c.Measure > measure:
			return found
		case c.Element.Tag != tag || IsAdditional(c.Element) || !c.For(staff) || c.Measure == measure && onset.Less(c.Onset):
		case found == nil || found.Measure < c.Measure || !c.Onset.Less(found.Onset):
			found = c
		}
	}
	return found
}
