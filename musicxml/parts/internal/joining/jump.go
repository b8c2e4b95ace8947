package joining

import (
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/desks"
)

// Jumps reads where a part leads back: repeats to where they begin, or to the beginning, and
// da capo.
func Jumps(t *musicxml.Timeline) []desks.Jump {
	var jumps []desks.Jump
	var begins musicxml.Position
	for i := range t.Measures {
		m := &t.Measures[i]
		for k := range m.Events {
			ev := &m.Events[k]
			switch ev.Kind {
			case musicxml.Barline:
				repeat := musicxml.Child(ev.Element, "repeat")
				switch {
				case repeat == nil:
				case musicxml.Attr(repeat, "direction") == "forward":
					begins = musicxml.Position{Measure: i}
				default:
					jumps = append(jumps, desks.Jump{From: musicxml.Position{Measure: i + 1}, To: begins})
				}
			case musicxml.Direction, musicxml.Sound:
				sound := ev.Element
				if ev.Kind == musicxml.Direction {
					sound = musicxml.Child(ev.Element, "sound")
				}
				if sound != nil && musicxml.Attr(sound, "dacapo") == "yes" {
					jumps = append(jumps, desks.Jump{From: musicxml.Position{Measure: i + 1}})
				}
			}
		}
	}
	return jumps
}
