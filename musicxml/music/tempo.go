package music

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// Tempo is the tempo that a <direction> or <sound> sets, in quarter notes a minute: what
// is played back, else what its metronome mark says; 0 for none.
func Tempo(e *etree.Element) float64 {
	if n := PlayedTempo(e); n > 0 {
		return n
	}
	for t := range musicxml.Each(e, "direction-type") {
		mark := musicxml.Child(t, "metronome")
		if mark == nil {
			continue
		}
		unit, _ := ValueLength(musicxml.ChildText(mark, "beat-unit"))
		if n, err := strconv.ParseFloat(musicxml.ChildText(mark, "per-minute"), 64); err == nil && n > 0 {
			return n * Dotted(unit, len(musicxml.Children(mark, "beat-unit-dot"))).Float()
		}
	}
	return 0
}

// PlayedTempo is the tempo that a <direction> or <sound> sets for playback (MusicXML 4.0,
// sound); 0 for none.
func PlayedTempo(e *etree.Element) float64 {
	if e.Tag != "sound" {
		e = musicxml.Child(e, "sound")
	}
	if e == nil {
		return 0
	}
	if n, err := strconv.ParseFloat(musicxml.Attr(e, "tempo"), 64); err == nil && n > 0 {
		return n
	}
	return 0
}
