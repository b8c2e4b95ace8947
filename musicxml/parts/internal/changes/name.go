package changes

import (
	"cmp"
	"math"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/transpose/pitch"
)

// Name prints the instrument's name where the player goes on with it and
// the score does not (part-preparation, 3): boxed, so that it stands out.
func Name(d *draft.Draft, language pitch.Language) error {
	s := &changer{d}
	for i := range s.Changes {
		c := &s.Changes[i]
		s.warnHasty(c)
		if c.Named {
			continue
		}
		direction := Boxed(c.Instrument.Label(language, ""))
		m := &s.Timeline.Measures[c.Measure]
		s.InsertInside(m, c.Onset, direction)
		s.MarkWords(direction)
	}
	return nil
}

// leastSeconds is how long it takes to change instruments (pimentel: under five
// seconds is risky).
const leastSeconds = 5

// warnHasty says so where the player has too little time to change.
func (s *changer) warnHasty(c *draft.InstrumentChange) {
	tempo := s.tempoAt(c.Position)
	seconds := 0.0
	if c.Silence.Sign() > 0 {
		seconds = c.Silence.Float() * 60 / tempo // without end where nothing tells how long the rest is
	}
	if seconds >= leastSeconds || c.Position == (musicxml.Position{}) {
		return
	}
	rounded := min(math.Round(seconds), leastSeconds-1) // not up to what is enough
	s.WarnAt(c.Position, notice.HastyChange, "the player has %.0f seconds to change to %s; under %d are risky", rounded, c.Instrument.Label("en", ""), leastSeconds)
}

// tempoAt is the tempo in force at a place, in quarter notes a minute; 0
// where none is said.
func (s *changer) tempoAt(at musicxml.Position) float64 {
	tempo := 0.0
	for i := range s.Timeline.Measures[:at.Measure+1] {
		for _, ev := range s.Timeline.Measures[i].Events {
			if (ev.Kind == musicxml.Direction || ev.Kind == musicxml.Sound) && at.Compare(musicxml.Position{Measure: i, Onset: ev.Onset}) >= 0 {
				tempo = cmp.Or(music.Tempo(ev.Element), tempo)
			}
		}
	}
	return tempo
}
