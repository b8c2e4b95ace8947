package changes

import (
	"fmt"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
)

// announcements are how a player is told to take another instrument, by language: words
// of the catalogue's data/words.csv.
var announcements = map[string]string{
	"en": "To %s", "de": "nimmt %s", "fr": "prend %s", "it": "muta in %s", "es": "cambia a %s",
}

// Announcement tells a player to take another instrument, where the old one stops.
func Announcement(language, instrument string) string {
	text, ok := announcements[language]
	if !ok {
		text = announcements["en"]
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
