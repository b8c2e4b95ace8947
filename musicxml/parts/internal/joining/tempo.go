package joining

import (
	"deskpart/musicxml"
	read "deskpart/musicxml/music"
	"deskpart/musicxml/parts/internal/desks"
)

// Tempos reads the tempos of a part: what is played back, else the metronome marks.
func Tempos(t *musicxml.Timeline) []desks.Tempo {
	var tempos []desks.Tempo
	for i := range t.Measures {
		for k := range t.Measures[i].Events {
			ev := &t.Measures[i].Events[k]
			if ev.Kind != musicxml.Sound && ev.Kind != musicxml.Direction {
				continue
			}
			if quarters := read.Tempo(ev.Element); quarters > 0 {
				tempos = append(tempos, desks.Tempo{Position: musicxml.Position{Measure: i, Onset: ev.Onset}, Quarters: quarters})
			}
		}
	}
	return tempos
}
