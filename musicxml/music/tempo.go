package music

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// Tempo is the tempo that a <direction> or <sound> sets, in quarter notes a minute: what
// is played back (MusicXML 4.0, sound), else what its metronome mark says; 0 for none.
func Tempo(e *etree.Element) float64 {
	sound := e
	if e.Tag != "sound" {
		sound = musicxml.Child(e, "sound")
	}
	if sound != nil {
		if n, err := strconv.ParseFloat(musicxml.Attr(sound, "tempo"), 64); err == nil && n > 0 {
			return n
		}
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
