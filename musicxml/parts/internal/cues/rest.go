package cues

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/staff"
	"deskpart/transpose/pitch"
)

// underCue is how far below the lowest cue note a rest stands, in places on the staff:
// clear of the head, as a lower voice's rest is.
const underCue = 3

// ClearRests sets the player's own rests in the bars of cues below the cue notes, whose
// stems go up: own rests stay, full size, as another voice (trade/part-preparation.md, 5).
// The clefs are those of the finished part.
func ClearRests(d *draft.Draft, cues []Cue) error {
	s := &cuer{Draft: d}
	for _, c := range cues {
		for _, note := range c.Notes {
			if err := s.clearRests(s.placeOf(note).Measure); err != nil {
				return err
			}
		}
	}
	return nil
}

func (s *cuer) clearRests(measure int) error {
	bottom := staff.BottomLine(s.clefBefore(measure))
	lowest, own := bottom+staff.Middle, []*etree.Element(nil)
	for i := range s.Timeline.Measures[measure].Events {
		ev := &s.Timeline.Measures[measure].Events[i]
		switch rest := musicxml.Child(ev.Element, "rest"); {
		case ev.Kind != musicxml.Note:
		case ev.Cue:
			p, err := music.ReadPitch(musicxml.Child(ev.Element, "pitch"))
			if err != nil {
				return err
			}
			lowest = min(lowest, p.Place())
		case rest != nil:
			own = append(own, rest)
		}
	}
	at := pitch.At(bottom + restPlace(lowest-bottom))
	for _, rest := range own {
		musicxml.SetChildText(rest, "display-step", at.Step.String())
		musicxml.SetChildText(rest, "display-octave", strconv.Itoa(at.Octave))
	}
	return nil
}

// restPlace is where a rest stands under cue notes, the lowest of which has a place on
// the staff, counted from the bottom line: on a line.
func restPlace(lowest int) int {
	at := lowest - underCue
	return at - (at%2+2)%2
}
