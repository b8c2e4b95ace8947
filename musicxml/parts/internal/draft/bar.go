package draft

import (
	"deskpart/musicxml"
)

// Idle reports whether the player does nothing all through a bar.
func Idle(m *musicxml.Measure) bool {
	for i := range m.Events {
		switch ev := &m.Events[i]; ev.Kind {
		case musicxml.Note:
			if !ev.Rest {
				return false
			}
		case musicxml.Harmony, musicxml.FiguredBass:
			return false
		}
	}
	return true
}

// HasCue reports whether cue notes stand in a bar.
func HasCue(m *musicxml.Measure) bool {
	for i := range m.Events {
		if m.Events[i].Cue {
			return true
		}
	}
	return false
}

// RepeatedBars finds the measures that stand under a sign for repeating bars or
// beats, or under slashes: what is in them is not what is printed.
func RepeatedBars(t *musicxml.Timeline) []bool {
	repeated := make([]bool, len(t.Measures))
	open := 0
	for i := range t.Measures {
		for ev := range t.Measures[i].Each(musicxml.Attributes) {
			for _, style := range musicxml.Children(ev.Element, "measure-style") {
				for _, e := range style.ChildElements() {
					switch musicxml.Attr(e, "type") { // a multi-bar rest has none
					case "start":
						open++
						repeated[i] = true
					case "stop":
						open = max(0, open-1)
					}
				}
			}
		}
		repeated[i] = repeated[i] || open > 0
	}
	return repeated
}
