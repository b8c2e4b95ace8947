package header

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// keepOwnInstruments leaves in a player's <score-part> the instruments that the
// sheet uses, and takes the notes' ids out where only one is left
// (musicxml-coverage, 9).
func (s *maker) keepOwnInstruments(entry *etree.Element) {
	d := s.Assignment.OnePlayer()
	if d == nil {
		return
	}
	kept := s.instrumentsInUse()
	if len(kept) == 0 || len(d.Instruments) > 0 && len(kept) == 1 {
		kept = map[string]bool{}
		for _, id := range d.Instruments {
			kept[id] = true
		}
	}
	if len(kept) == 0 {
		return
	}
	for _, e := range entry.ChildElements() {
		switch e.Tag {
		case "score-instrument", "midi-instrument", "midi-device":
			if id := musicxml.Attr(e, "id"); id != "" && !kept[id] {
				entry.RemoveChild(e)
			}
		}
	}
	if len(kept) == 1 {
		s.dropInstrumentIDs()
	}
}

// instrumentsInUse are the ids that notes and playback changes of the sheet name.
func (s *maker) instrumentsInUse() map[string]bool {
	used := map[string]bool{}
	var walk func(e *etree.Element)
	walk = func(e *etree.Element) {
		switch e.Tag {
		case "instrument", "instrument-change", "midi-instrument", "midi-device", "play":
			if id := musicxml.Attr(e, "id"); id != "" {
				used[id] = true
			}
		}
		for _, token := range e.Child {
			if c, ok := token.(*etree.Element); ok {
				walk(c)
			}
		}
	}
	walk(s.Part)
	return used
}

// dropInstrumentIDs takes <instrument> out of all notes.
func (s *maker) dropInstrumentIDs() {
	for i := range s.Timeline.Measures {
		for _, ev := range s.Timeline.Measures[i].Events {
			if ev.Kind == musicxml.Note {
				musicxml.RemoveChildren(ev.Element, "instrument")
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
