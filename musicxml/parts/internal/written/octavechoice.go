package written

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/staff"
	"deskpart/musicxml/parts/octaves"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// bestOctaves chooses the octaves of all phrases together, as they suit the player's
// instrument.
func (s *writer) bestOctaves(source []transpose.Stretch) []draft.OctaveChange {
	compass, ok := octaves.CompassOf(s.Assignment.Instrument, s.o.Level)
	if !ok {
		return nil
	}
	phrases, places := s.phrases(source)
	var changes []draft.OctaveChange
	last := 0
	for i, octave := range octaves.Choose(phrases, compass) {
		if octave != last {
			changes = append(changes, draft.OctaveChange{At: places[i], Octave: octave})
		}
		last = octave
	}
	return s.named(changes)
}

// phrases cuts the part where its octave may change; places are where the phrases
// begin, the first with the first bar, rests and all.
func (s *writer) phrases(source []transpose.Stretch) (all []octaves.Phrase, places []musicxml.Position) {
	inTime := s.o.Page.InTime(1)
	ended := false // the passage before ends a phrase
	for _, p := range s.o.Page.Passages(inTime, s.Timeline.Measures) {
		notes := inTime[p.First:p.Last]
		before, ok := s.breakBefore(p, notes, ended)
		switch {
		case len(all) == 0:
			all, places = append(all, octaves.Phrase{}), append(places, musicxml.Position{})
		case ok:
			all, places = append(all, octaves.Phrase{Before: before}), append(places, p.At)
		}
		phrase := &all[len(all)-1]
		for _, k := range notes {
			if n := &s.o.Page.Notes[k]; weighed(n) {
				phrase.Sounds = append(phrase.Sounds, n.Sound+soundingAt(source, n).Chromatic)
			}
		}
		ended = s.endsPhrase(notes)
	}
	return all, places
}

// breakBefore tells how well the octave changes before a passage, and whether it may.
func (s *writer) breakBefore(p staff.Passage, notes []int, ended bool) (octaves.Break, bool) {
	rested := p.Start == staff.AfterRest || p.Start == staff.AfterRestBar
	switch {
	case rested && s.barsOfRest(p):
		return octaves.AtRest, true
	case rested:
		return octaves.AtGap, true
	case ended:
		return octaves.AtBreath, true
	}
	return octaves.AtBar, p.Start == staff.AtBar || s.anyNotation(notes[:1], beginsSlur)
}

// barsOfRest reports whether a whole bar without notes comes before a passage.
func (s *writer) barsOfRest(p staff.Passage) bool {
	if p.At.Measure == 0 {
		return false
	}
	for _, ev := range s.Timeline.Measures[p.At.Measure-1].Events {
		if ev.Kind == musicxml.Note && !ev.Rest && !ev.Cue {
			return false
		}
	}
	return true
}

// endsPhrase reports whether the last of some notes, or a note that it is tied to, has a
// breath mark, a pause or the end of a slur.
func (s *writer) endsPhrase(notes []int) bool {
	for i := len(notes) - 1; i >= 0; i-- {
		if s.anyNotation(notes[i:i+1], endsAPhrase) {
			return true
		}
		if !music.ReadTies(s.o.Page.Notes[notes[i]].Event.Element).Stop() {
			return false
		}
	}
	return false
}

func endsAPhrase(e *etree.Element) bool {
	return e.Tag == "slur" && musicxml.Attr(e, "type") == "stop" || e.Tag == "fermata" || breathes(e)
}

// anyNotation reports whether one of some notes has a notation of a kind.
func (s *writer) anyNotation(notes []int, is func(*etree.Element) bool) bool {
	for _, k := range notes {
		n := &s.o.Page.Notes[k]
		if !n.Event.Marked {
			continue
		}
		for _, notations := range musicxml.Children(n.Event.Element, "notations") {
			for _, e := range notations.ChildElements() {
				if is(e) {
					return true
				}
			}
		}
	}
	return false
}

func beginsSlur(e *etree.Element) bool {
	return e.Tag == "slur" && musicxml.Attr(e, "type") == "start"
}

func breathes(e *etree.Element) bool {
	return e.Tag == "articulations" && (musicxml.Child(e, "breath-mark") != nil || musicxml.Child(e, "caesura") != nil)
}

// weighed reports whether a note matters to the choice of octaves. One that is tied on
// is weighed where it begins; cue notes and harmonics are not fingered at their pitch.
func weighed(n *staff.Note) bool {
	return !n.Event.Cue && !n.Unpitched() && n.Pitch != nil && !music.ReadTies(n.Event.Element).Stop() && !draft.IsHarmonic(n.Event.Element)
}

// soundingAt is what is added to a note's written pitch.
func soundingAt(said []transpose.Stretch, n *staff.Note) pitch.Interval {
	var now pitch.Interval
	for i := range said {
		t := &said[i]
		if (t.Staff == 0 || t.Staff == n.Event.Staff) && t.Position().Compare(n.At()) <= 0 {
			now = t.To.Interval()
		}
	}
	return now
}
