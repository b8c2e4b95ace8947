package parts

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/divisi"
	"deskpart/transpose"
)

// takePlayersMusic leaves of a shared staff what one of its players has.
func (s *sheet) takePlayersMusic() error {
	a := &s.assignment
	if a.Player == 0 {
		return nil
	}
	if a.desk().instrument != nil {
		return nil // both read every note
	}
	o := divisi.Options{Keep: a.Player - 1, Lexicon: s.players, Names: s.playerNames(), System: s.changesInstrument}
	for _, d := range a.desks {
		o.Players = append(o.Players, d.player)
	}
	if err := s.layOut(); err != nil {
		return err
	}
	var err error
	if s.courtesies, err = transpose.Courtesies(s.timeline); err != nil {
		return err
	}
	report, err := divisi.Divide(s.timeline, o)
	if err != nil {
		return err
	}
	s.report.Warnings = append(s.report.Warnings, report.Warnings...)
	s.standOn(report.Staff)
	return s.layOut()
}

// standOn goes on with a part of which one staff was taken: what was surveyed of
// the others no longer concerns it.
func (s *sheet) standOn(staff int) {
	own := *s.survey
	own.Staves, own.Source = 1, nil
	for _, said := range s.survey.Source {
		if said.Staff == 0 || said.Staff == staff {
			said.Staff = 0
			own.Source = append(own.Source, said)
		}
	}
	s.survey = &own
}

// playerNames are the names that may stand beside a player's number in the
// score's words.
func (s *sheet) playerNames() []string {
	i := s.survey.Match.Instrument
	if i == nil {
		return nil
	}
	var names []string
	for _, language := range []string{"en", "de", "fr", "it", "es"} {
		n := i.Names(language)
		names = append(names, n.Singular, n.Plural, n.Abbreviation)
	}
	return names
}

// changesInstrument reports whether a direction tells a player to change
// instrument: it concerns players who rest.
func (s *sheet) changesInstrument(direction *etree.Element) bool {
	for _, t := range musicxml.Children(direction, "direction-type") {
		for _, words := range musicxml.Children(t, "words") {
			if _, ok := s.catalogue.MatchChange(musicxml.Text(words), s.assignment.Instrument); ok {
				return true
			}
		}
	}
	return false
}

// keepOwnInstruments leaves in a player's <score-part> the instruments that the
// sheet uses, and takes the notes' ids out where only one is left
// (musicxml-coverage, 9).
func (s *sheet) keepOwnInstruments(entry *etree.Element) {
	d := s.assignment.desk()
	if d == nil {
		return
	}
	kept := s.instrumentsInUse()
	if len(kept) == 0 || len(d.player.Instruments) > 0 && len(kept) == 1 {
		kept = map[string]bool{}
		for _, id := range d.player.Instruments {
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
func (s *sheet) instrumentsInUse() map[string]bool {
	used := map[string]bool{}
	var walk func(e *etree.Element)
	walk = func(e *etree.Element) {
		switch e.Tag {
		case "instrument", "instrument-change", "midi-instrument", "midi-device", "play":
			if id := musicxml.Attr(e, "id"); id != "" {
				used[id] = true
			}
		case "pitch", "notations":
			return
		}
		for _, token := range e.Child {
			if c, ok := token.(*etree.Element); ok {
				walk(c)
			}
		}
	}
	walk(s.part)
	return used
}

// dropInstrumentIDs takes <instrument> out of all notes.
func (s *sheet) dropInstrumentIDs() {
	for i := range s.timeline.Measures {
		for _, ev := range s.timeline.Measures[i].Events {
			if ev.Kind == musicxml.Note {
				musicxml.RemoveChildren(ev.Element, "instrument")
			}
		}
	}
}

// playerNumber is what stands after the instrument in labels: the player's
// number, or those of the whole part.
func (s *sheet) playerNumber() string {
	d := s.assignment.desk()
	switch {
	case d == nil:
		return s.survey.Match.Number
	case d.player.Number == 0:
		return ""
	}
	return strconv.Itoa(d.player.Number)
}
