package condense

import (
	"regexp"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
	"deskpart/musicxml/parts/internal/draft"
)

// numbers say which players of a staff play: "1.", "I.", "a 2", "zu 2".
var numbers = regexp.MustCompile(`(?i)^\W*(\d|I{1,3}|(a|à|zu) *\d)\W*$`)

// saysWhoPlays reports whether words say which players of a staff play, and nothing else.
func saysWhoPlays(text string) bool {
	return numbers.MatchString(text) || lexicon.OnlySays(text, "divided", "unison")
}

// dropWhoPlays takes words out of a part that are a staff's for several players: on the
// new one they would speak of others.
func dropWhoPlays(d *draft.Draft) {
	for i := range d.Timeline.Measures {
		for k := range d.Timeline.Measures[i].Events {
			ev := &d.Timeline.Measures[i].Events[k]
			if ev.Kind != musicxml.Direction {
				continue
			}
			var drop []*etree.Element
			for _, words := range draft.WordsIn(ev.Element) {
				if saysWhoPlays(musicxml.Text(words)) {
					drop = append(drop, words)
				}
			}
			for _, words := range drop {
				draft.DropWords(words)
			}
		}
	}
}
