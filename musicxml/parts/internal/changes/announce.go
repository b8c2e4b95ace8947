package changes

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/wording"
	"deskpart/transpose/pitch"
)

// Announcements are how a player is told to take another instrument, in every language.
func Announcements(instrument string) []string {
	var all []string
	for _, language := range pitch.Languages() {
		all = append(all, wording.Take(language, instrument))
	}
	return all
}

// Boxed are words over the staff that stand out (part-preparation, 3).
func Boxed(text string) *etree.Element {
	return draft.WordsAbove(text, "enclosure", "rectangle")
}

// List prints the list of the player's instruments at the head of the part (perc-list).
func List(d *draft.Draft) error {
	if d.Assignment.Has == "" || len(d.Timeline.Measures) == 0 {
		return nil
	}
	direction := draft.WordsAbove(d.Assignment.Has, "font-style", "italic")
	d.OnTopStaff(direction)
	d.InsertInside(&d.Timeline.Measures[0], musicxml.Fraction{}, direction)
	return nil
}
