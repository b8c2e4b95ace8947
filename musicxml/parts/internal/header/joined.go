package header

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/transpose/pitch"
)

// Entry is the <score-part> of a part that is to be joined with others, with the
// instruments that it keeps: one at least.
func Entry(d *draft.Draft, language pitch.Language) *etree.Element {
	s := &maker{d, language}
	entry := etree.NewElement("score-part")
	if old := d.Score.ScoreParts[d.Assignment.Part].Element; old != nil {
		entry = old.Copy()
	}
	entry.CreateAttr("id", d.Assignment.ID)
	used := &references{ids: map[string]bool{}}
	used.read(d.Part)
	s.keepOwnInstruments(entry, used)
	s.instruments(entry, used)
	if musicxml.Child(entry, "score-instrument") == nil {
		in := etree.NewElement("score-instrument")
		in.CreateAttr("id", d.Assignment.ID+"-I1")
		musicxml.SetChildText(in, "instrument-name", d.Assignment.Label)
		musicxml.AddInOrder(entry, in)
	}
	return entry
}

// joinEntries gives a joined part's entry the instruments of all its staves.
func (s *maker) joinEntries(entry *etree.Element, used *references) {
	musicxml.RemoveChildren(entry, "score-instrument", "midi-device", "midi-instrument", "player")
	s.Report.Instruments = nil
	for _, e := range s.Entries {
		for _, c := range e.ChildElements() {
			switch c.Tag {
			case "score-instrument", "midi-device", "midi-instrument":
				if id := musicxml.Attr(c, "id"); id == "" || !idsOf(entry, c.Tag)[id] {
					musicxml.AddInOrder(entry, c.Copy())
				}
			}
		}
	}
	known := idsOf(entry, "score-instrument")
	for _, e := range musicxml.Children(entry, "score-instrument") {
		s.Report.Instruments = append(s.Report.Instruments, musicxml.Attr(e, "id"))
	}
	for _, e := range used.instruments {
		if !known[musicxml.Attr(e, "id")] {
			dropReference(e)
		}
	}
}
