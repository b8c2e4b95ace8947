package joining

import (
	"strconv"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/desks"
)

// Tempos reads the tempos of a part: what is played back, else the metronome marks.
func Tempos(t *musicxml.Timeline) []desks.Tempo {
	var tempos []desks.Tempo
	for i := range t.Measures {
		for k := range t.Measures[i].Events {
			ev := &t.Measures[i].Events[k]
			sound := ev.Element
			var metronome float64
			switch ev.Kind {
			case musicxml.Sound:
			case musicxml.Direction:
				sound, metronome = musicxml.Child(ev.Element, "sound"), metronomeIn(ev)
			default:
				continue
			}
			if sound != nil {
				if n, err := strconv.ParseFloat(musicxml.Attr(sound, "tempo"), 64); err == nil && n > 0 {
					metronome = n
				}
			}
			if metronome > 0 {
				tempos = append(tempos, desks.Tempo{Position: musicxml.Position{Measure: i, Onset: ev.Onset}, Quarters: metronome})
			}
		}
	}
	return tempos
}

// beatUnits are the lengths of beats in quarter notes.
var beatUnits = map[string]float64{"breve": 8, "whole": 4, "half": 2, "quarter": 1, "eighth": 0.5, "16th": 0.25, "32nd": 0.125}

// metronomeIn reads a metronome mark in quarter notes a minute, 0 or less without one.
func metronomeIn(ev *musicxml.Event) float64 {
	for t := range musicxml.Each(ev.Element, "direction-type") {
		mark := musicxml.Child(t, "metronome")
		if mark == nil {
			continue
		}
		perMinute, err := strconv.ParseFloat(musicxml.ChildText(mark, "per-minute"), 64)
		unit := beatUnits[musicxml.ChildText(mark, "beat-unit")]
		if musicxml.Child(mark, "beat-unit-dot") != nil {
			unit *= 1.5
		}
		if err == nil {
			return perMinute * unit
		}
	}
	return 0
}
