package joining

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/desks"
	"deskpart/musicxml/parts/internal/draft"
)

// WarnLedBack says where the music leads back or on to a passage for which the player of one
// staff needs another instrument, with little time to change. lengths are those of the bars.
func WarnLedBack(d *draft.Draft, lengths []musicxml.Fraction) error {
	if len(d.Changes) == 0 || d.Assignment.Instrument == nil {
		return nil
	}
	var has []*instruments.Instrument
	var sounds []desks.Sounds
	for _, s := range Sounds(d.Timeline) {
		in := d.InstrumentAt(musicxml.Position{Measure: s.Measure, Onset: s.From})
		k := slices.Index(has, in)
		if k < 0 {
			k = len(has)
			has, sounds = append(has, in), append(sounds, nil)
		}
		sounds[k] = append(sounds[k], s)
	}
	clock := desks.NewClock(lengths, Tempos(d.Timeline))
	clock.Plays(Way(d.Timeline))
	turns := desks.TakeTurns(sounds, clock)
	for _, c := range turns.Back {
		if !c.Hasty() || !c.Said && c.Seconds > 0 {
			continue // nothing tells how long the rest is
		}
		d.WarnAt(c.Entry, notice.HastyChange, "where the music leads back or on to here the player has %s to change from %s to %s; under %d seconds are risky",
			SecondsOf(c.Seconds), has[c.From].Label("en", ""), has[c.To].Label("en", ""), desks.LeastSeconds)
	}
	return nil
}

// SecondsOf is a time in words, in tenths that are over: 4.96 seconds are not five.
func SecondsOf(n float64) string {
	switch n = math.Floor(n*10+1e-9) / 10; n {
	case 0:
		return "no rest"
	case 1:
		return "1 second"
	}
	return strings.TrimSuffix(fmt.Sprintf("%.1f", n), ".0") + " seconds"
}
