package condense

import (
	"regexp"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
)

// whoPlays are words that say which players of a staff play: "1.", "I.", "a 2", "zu 2".
var whoPlays = regexp.MustCompile(`(?i)^\W*(\d|I{1,3}|(a|à|zu|unis\.?) *\d|unis|div)\W*$`)

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
				if whoPlays.MatchString(musicxml.Text(words)) {
					drop = append(drop, words)
				}
			}
			for _, words := range drop {
				draft.DropWords(words)
			}
		}
	}
}
