package rests

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts/internal/draft"
)

// staffView is what one <staff-details> says about whether its staff is printed, until the
// next does (MusicXML 4.0, staff-details, print-object: "yes" where nothing is said).
type staffView struct {
	details *etree.Element
	staff   int
	hidden  bool
}

// showStaves takes away what hid the part's staves in the score. A staff that has nothing to
// play meanwhile stays hidden beside one that is printed, such as that of divisi.
func showStaves(d *draft.Draft) {
	views := staffViews(d)
	hidden := map[int]bool{}
	for _, v := range views {
		switch {
		case v.hidden:
		case hidden[v.staff]:
			v.details.CreateAttr("print-object", "yes")
		default:
			draft.RemoveAttr(v.details, "print-object")
			if len(v.details.ChildElements()) == 0 && musicxml.Attr(v.details, "show-frets") == "" {
				draft.DropAttribute(v.details)
				d.Rearranged()
			}
		}
		hidden[v.staff] = v.hidden
	}
}

// staffViews reads them in the order of the page, hidden those that may stay so.
func staffViews(d *draft.Draft) []*staffView {
	var views []*staffView
	hidden := map[int]*staffView{}
	for i := range d.Timeline.Measures {
		m := &d.Timeline.Measures[i]
		for k := range m.Events {
			ev := &m.Events[k]
			switch ev.Kind {
			case musicxml.Note:
				if v := hidden[max(ev.Staff, 1)]; v != nil && !ev.Rest {
					v.hidden = false
				}
			case musicxml.Attributes:
				for _, e := range musicxml.Children(ev.Element, "staff-details") {
					v := &staffView{e, max(music.StaffNumber(e), 1), musicxml.Attr(e, "print-object") == "no"}
					views = append(views, v)
					delete(hidden, v.staff)
					if v.hidden {
						hidden[v.staff] = v
					}
				}
				if len(hidden) >= d.Staves { // nothing of the part would be seen
					for _, v := range hidden {
						v.hidden = false
					}
				}
			}
		}
	}
	return views
}
