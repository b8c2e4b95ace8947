package header

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// keepOwnInstruments leaves in a player's <score-part> the instruments that the
// sheet uses, and takes the notes' ids out where only one is left
// (musicxml-coverage, 9).
func (s *maker) keepOwnInstruments(entry *etree.Element, used *references) {
	d := s.Assignment.OnePlayer()
	if d == nil {
		return
	}
	kept := map[string]bool{}
	for _, e := range used.instruments {
		kept[musicxml.Attr(e, "id")] = true
	}
	if len(kept) == 0 || len(d.Instruments) > 0 && len(kept) == 1 {
		kept = map[string]bool{}
		for _, id := range d.Instruments {
			kept[id] = true
		}
	}
	if len(kept) == 0 {
		return
	}
	keepInstruments(entry, func(id string) bool { return kept[id] })
	if len(kept) == 1 {
		for _, ev := range s.Timeline.Each(musicxml.Note) {
			musicxml.RemoveChildren(ev.Element, "instrument")
		}
	}
}

// keepInstruments leaves in a <score-part> some of its instruments, by their ids.
func keepInstruments(entry *etree.Element, keeps func(id string) bool) {
	for _, e := range entry.ChildElements() {
		switch e.Tag {
		case "score-instrument", "midi-instrument", "midi-device":
			if id := musicxml.Attr(e, "id"); id != "" && !keeps(id) {
				entry.RemoveChild(e)
			}
		}
	}
}

// playerNumber is what stands after the instrument in labels: the player's
// number, or those of the whole part.
func (s *maker) playerNumber() string {
	d := s.Assignment.OnePlayer()
	switch {
	case d == nil:
		return s.Survey.Match.Number
	case d.Number == 0:
		return ""
	}
	return strconv.Itoa(d.Number)
}
