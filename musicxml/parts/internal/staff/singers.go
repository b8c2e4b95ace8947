package staff

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
)

// PlaceForSingers sets the words below the staff and the dynamics above (spnm).
func PlaceForSingers(d *draft.Draft) error {
	if !d.Assignment.Sings {
		return nil
	}
	for i := range d.Timeline.Measures {
		for k := range d.Timeline.Measures[i].Events {
			switch ev := &d.Timeline.Measures[i].Events[k]; ev.Kind {
			case musicxml.Note:
				for _, lyric := range musicxml.Children(ev.Element, "lyric") {
					place(lyric, "below")
				}
				for _, dynamics := range musicxml.Along(ev.Element, "notations", "dynamics") {
					place(dynamics, "above")
				}
			case musicxml.Direction:
				placeDynamics(ev.Element)
			}
		}
	}
	return nil
}

// placeDynamics sets a direction above that says how loud to sing.
func placeDynamics(direction *etree.Element) {
	for _, says := range musicxml.Children(direction, "direction-type") {
		for _, e := range says.ChildElements() {
			if e.Tag == "dynamics" || e.Tag == "wedge" {
				place(direction, "above")
				place(e, "")
			}
		}
	}
}

// place says on which side an element stands, and lets go of where exactly it stood.
func place(e *etree.Element, side string) {
	for _, key := range []string{"default-x", "default-y", "relative-x", "relative-y"} {
		draft.RemoveAttr(e, key)
	}
	if side != "" {
		draft.RemoveAttr(e, "placement")
		e.CreateAttr("placement", side)
	}
}
