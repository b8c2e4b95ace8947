package notate

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/fonts"
	"deskpart/musicxml/music"
)

// census counts what is not drawn.
type census struct {
	part *music.Part
	rows map[string]*engraving.NotDrawn
}

// mostBars is how many bars the list of what is not drawn names.
const mostBars = 8

// miss counts an element that is not drawn, in a bar (from 0).
func (c *census) miss(element string, bar int) {
	row := c.rows[element]
	if row == nil {
		row = &engraving.NotDrawn{Element: element}
		c.rows[element] = row
	}
	row.Count++
	if number := c.part.Measures[bar].Number; len(row.Bars) < mostBars && !slices.Contains(row.Bars, number) {
		row.Bars = append(row.Bars, number)
	}
}

// missMark counts a mark by its element's name, with what tells one kind of it from
// another.
func (c *census) missMark(m *music.Mark) { c.miss(elementName(m.Element), m.Measure) }

// elementName is an element's name with its smufl name or text, where these say
// what it is.
func elementName(e *etree.Element) string {
	switch e.Tag {
	case "symbol", "other-articulation", "other-technical", "other-ornament", "other-notation", "other-direction":
		if name := musicxml.Attr(e, "smufl"); name != "" {
			return e.Tag + " " + name
		}
		if e.Tag == "symbol" {
			return e.Tag + " " + musicxml.Text(e)
		}
	}
	return e.Tag
}

// unset counts the characters of the part's texts that no face has: they cannot be
// set.
func (r *partReader) unset() {
	for s := range r.music.Staves {
		for b := range r.music.Staves[s].Measures {
			measure := &r.music.Staves[s].Measures[b]
			for i := range measure.Marks {
				r.census.missText(withoutStrokes.Replace(words(&measure.Marks[i])), b)
			}
			for e := range measure.Events() {
				for _, lyric := range e.Lyrics {
					r.census.missText(strings.ReplaceAll(lyric.Text, engraving.Elision, ""), b)
				}
			}
		}
	}
}

// withoutStrokes takes the strokes off a text that are laid over its characters.
var withoutStrokes = strings.NewReplacer(engraving.SlashOverlay, "", engraving.BackslashOverlay, "", engraving.VerticalOverlay, "")

func (c *census) missText(text string, bar int) {
	for _, r := range fonts.Regular.Missing(text) {
		if r >= ' ' {
			c.miss(Character(r), bar)
		}
	}
}

// Character is how the list of what is not drawn names a character that no font has.
func Character(r rune) string { return fmt.Sprintf("character %c (U+%04X)", r, r) }

// list is what was counted, by name.
func (c *census) list() []engraving.NotDrawn {
	var list []engraving.NotDrawn
	for _, name := range slices.Sorted(maps.Keys(c.rows)) {
		list = append(list, *c.rows[name])
	}
	return list
}
