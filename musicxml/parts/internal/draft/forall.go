package draft

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
)

// ForAll reports whether a direction is for all players and staves: tempo, rehearsal marks,
// the way through the piece.
func ForAll(direction *etree.Element) bool {
	if sound := musicxml.Child(direction, "sound"); sound != nil && slices.ContainsFunc(sound.Attr, func(a etree.Attr) bool { return a.Key != "dynamics" }) {
		return true
	}
	for t := range musicxml.Each(direction, "direction-type") {
		if HasOne(t, "metronome", "rehearsal", "segno", "coda") {
			return true
		}
		for words := range musicxml.Each(t, "words") {
			switch lexicon.ClassOf(musicxml.Text(words)) {
			case lexicon.TempoWords, lexicon.GradualWords, lexicon.NavigationWords, lexicon.PauseWords, lexicon.HeadingWords, lexicon.SectionWords:
				return true
			}
		}
	}
	return false
}
