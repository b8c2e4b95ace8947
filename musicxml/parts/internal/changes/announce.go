package changes

import (
	"fmt"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/transpose/pitch"
)

// announcements are how a player is told to take another instrument, by language: words
// of the catalogue's data/words.csv.
var announcements = map[pitch.Language]string{
	pitch.English: "To %s", pitch.German: "nimmt %s", pitch.French: "prend %s", pitch.Italian: "muta in %s", pitch.Spanish: "cambia a %s",
}

// Announcement tells a player to take another instrument, where the old one stops.
func Announcement(language pitch.Language, instrument string) string {
	text, ok := announcements[language]
	if !ok {
		text = announcements[pitch.English]
	}
	return fmt.Sprintf(text, instrument)
}

// Announcements are the same in every language.
func Announcements(instrument string) []string {
	var all []string
	for _, text := range announcements {
		all = append(all, fmt.Sprintf(text, instrument))
	}
	return all
}

// Boxed are words over the staff that stand out (part-preparation, 3).
func Boxed(text string) *etree.Element {
	direction := etree.NewElement("direction")
	direction.CreateAttr("placement", "above")
	words := direction.CreateElement("direction-type").CreateElement("words")
	words.CreateAttr("enclosure", "rectangle")
	words.SetText(text)
	return direction
}

// List prints the list of the player's instruments at the head of the part (perc-list).
func List(d *draft.Draft) error {
	if d.Assignment.Has == "" || len(d.Timeline.Measures) == 0 {
		return nil
	}
	direction := etree.NewElement("direction")
	direction.CreateAttr("placement", "above")
	words := direction.CreateElement("direction-type").CreateElement("words")
	words.CreateAttr("font-style", "italic")
	words.SetText(d.Assignment.Has)
	if d.Staves > 1 {
		musicxml.SetChildText(direction, "staff", "1")
	}
	d.InsertInside(&d.Timeline.Measures[0], musicxml.Fraction{}, direction)
	return nil
}
