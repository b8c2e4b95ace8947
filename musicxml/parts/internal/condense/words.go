package condense

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
	"deskpart/musicxml/parts/internal/draft"
)

// saysWhoPlays reports whether words say which players of a staff play, and nothing
// else: "1.", "I.", "a 2", "div.".
func saysWhoPlays(text string) bool {
	return lexicon.OnlySays(text, "divided", "unison", "player", "several players")
}

// dropWhoPlays takes words out of a part that are a staff's for several players: on the
// new one they would speak of others.
func dropWhoPlays(d *draft.Draft) {
	for _, ev := range d.Timeline.Each(musicxml.Direction) {
		var drop []*etree.Element
		for _, words := range draft.WordsIn(ev.Element) {
			if saysWhoPlays(musicxml.Text(words)) {
				drop = append(drop, words)
			}
		}
		for _, words := range drop {
			draft.DropMark(words)
		}
	}
}
