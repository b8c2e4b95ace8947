package header

import (
	"cmp"
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
	"deskpart/musicxml/parts/internal/draft"
)

// crediting lays out what is printed round the music of the first page.
type crediting struct {
	*maker
	root  *etree.Element
	paper paper
	old   page
	// The next free height on the left, in the middle and on the right, in
	// millimetres from the top edge.
	left, middle, right float64
}

// page is the score's page in tenths; 0 where it is not said.
type page struct{ width, height float64 }

func oldPage(defaults *etree.Element) page {
	layout := musicxml.Child(defaults, "page-layout")
	return page{number(musicxml.ChildText(layout, "page-width")), number(musicxml.ChildText(layout, "page-height"))}
}

// The roles of credits (MusicXML 4.0, credit-type, standard values).
const (
	roleTitle      = "title"
	roleSubtitle   = "subtitle"
	roleComposer   = "composer"
	roleArranger   = "arranger"
	roleLyricist   = "lyricist"
	roleRights     = "rights"
	rolePartName   = "part name"
	rolePageNumber = "page number"
)

// Sizes of print in points, and the millimetres per point.
const (
	nameSize    = 14
	titleSize   = 20
	defaultSize = 12
	perPoint    = 25.4 / 72
	leading     = 1.25 // distance of lines, by size
)

// write puts the instrument's name at the upper left (metropole), the title in the
// middle, composer on the right and words on the left under it (part-preparation
// section 1).
func (c *crediting) write() {
	c.left = c.paper.topBottom
	name := c.credit(rolePartName, c.Assignment.Label, nameSize)
	c.placeLeft(name)
	c.middle = c.left // a long title would run into the name beside it
	kept := c.keep()
	if len(kept) == 0 {
		kept = c.fromHeader()
	} else if !hasTitle(kept) && c.Score.Title() != "" {
		kept = append([]roled{{roleTitle, c.credit(roleTitle, c.Score.Title(), titleSize)}}, kept...)
	}
	if movement := c.unsaidMovement(kept); movement != "" {
		kept = append(kept, roled{roleSubtitle, c.credit(roleSubtitle, movement, nameSize)})
	}
	c.place(kept)
	for _, k := range kept {
		musicxml.AddInOrder(c.root, k.element)
	}
	musicxml.AddInOrder(c.root, name)
}

// roled is a credit and what it is.
type roled struct {
	role    string
	element *etree.Element
}

// keep takes the source's credits off the page and returns those that a part has.
func (c *crediting) keep() []roled {
	var kept []roled
	for _, credit := range musicxml.Children(c.root, "credit") {
		c.root.RemoveChild(credit)
		if page := musicxml.Attr(credit, "page"); page != "" && page != "1" {
			continue
		}
		role := c.role(credit)
		if role == rolePartName || role == rolePageNumber || isScoreLabel(creditText(credit)) || c.isScoreName(credit) {
			continue
		}
		c.polish(role, credit)
		kept = append(kept, roled{role, credit})
	}
	return kept
}

// polish takes the score's own label out of a heading and gives words without a
// size the one that their role has, lest the part's name outgrow the title.
func (c *crediting) polish(role string, credit *etree.Element) {
	for _, words := range musicxml.Children(credit, "credit-words") {
		musicxml.SetText(words, withoutScoreLabel(musicxml.Text(words)))
		if musicxml.Attr(words, "font-size") != "" {
			continue
		}
		size := float64(defaultSize)
		switch role {
		case roleTitle:
			size = titleSize
		case roleSubtitle:
			size = nameSize
		case roleRights:
			size = defaultSize - 3
		}
		words.CreateAttr("font-size", c.points(size))
	}
}

// creditText joins the words of a credit.
func creditText(credit *etree.Element) string {
	return strings.Join(strings.Fields(draft.JoinedText(credit, "credit-words")), " ")
}

// isScoreName reports whether a credit is the source's own name of this part.
func (c *crediting) isScoreName(credit *etree.Element) bool {
	text := creditText(credit)
	return text != "" && strings.EqualFold(text, c.Survey.Name)
}

// role is what a credit says it is, or what it must be by its text and place.
func (c *crediting) role(credit *etree.Element) string {
	for _, t := range musicxml.Children(credit, "credit-type") {
		if role := strings.ToLower(musicxml.Text(t)); role != "" {
			return role
		}
	}
	text := creditText(credit)
	if text == "" {
		return ""
	}
	if role := c.roleByText(text); role != "" {
		return role
	}
	return c.roleByPlace(credit)
}

// roleByText finds a text among the titles and names of the header.
func (c *crediting) roleByText(text string) string {
	switch text {
	case musicxml.Text(musicxml.Descend(c.root, "work", "work-title")), musicxml.ChildText(c.root, "movement-title"):
		return roleTitle
	}
	identification := musicxml.Child(c.root, "identification")
	if identification == nil {
		return ""
	}
	for _, e := range identification.ChildElements() {
		switch {
		case strings.Join(strings.Fields(musicxml.Text(e)), " ") != text:
		case e.Tag == "rights":
			return roleRights
		case e.Tag == "creator":
			return strings.ToLower(musicxml.Attr(e, "type"))
		}
	}
	return ""
}

// Places on the score's page, as shares of it, that tell what a credit is.
const (
	footShare  = 0.15
	leftShare  = 0.3
	rightShare = 0.7
)

// roleByPlace guesses from where a credit stood: right of the middle the composer,
// left of it the writer of the words, at the foot the rights, in the middle a title.
func (c *crediting) roleByPlace(credit *etree.Element) string {
	words := musicxml.Child(credit, "credit-words")
	x, across := share(words, "default-x", c.old.width)
	y, up := share(words, "default-y", c.old.height)
	switch {
	case up && y < footShare:
		return roleRights
	case !across || !up:
		return ""
	case x < leftShare:
		return roleLyricist
	case x > rightShare:
		return roleComposer
	}
	return roleSubtitle
}

// share is where an element stood, as a share of the score's page; false where that is not
// said.
func share(e *etree.Element, key string, page float64) (float64, bool) {
	if page == 0 || musicxml.Attr(e, key) == "" {
		return 0, false
	}
	return number(musicxml.Attr(e, key)) / page, true
}

func hasTitle(credits []roled) bool {
	return slices.ContainsFunc(credits, func(c roled) bool { return c.role == roleTitle || c.role == roleSubtitle })
}

// fromHeader makes credits of what the header says, for a source that prints none:
// once a file has credits, programs print them alone.
func (c *crediting) fromHeader() []roled {
	var made []roled
	add := func(role, text string, size float64) {
		if text != "" {
			made = append(made, roled{role, c.credit(role, text, size)})
		}
	}
	title := musicxml.Text(musicxml.Descend(c.root, "work", "work-title"))
	add(roleTitle, cmp.Or(title, musicxml.ChildText(c.root, "movement-title")), titleSize)
	if identification := musicxml.Child(c.root, "identification"); identification != nil {
		for _, e := range identification.ChildElements() {
			switch e.Tag {
			case "creator":
				add(strings.ToLower(musicxml.Attr(e, "type")), musicxml.Text(e), defaultSize)
			case "rights":
				add(roleRights, musicxml.Text(e), defaultSize-3)
			}
		}
	}
	return made
}

// unsaidMovement is the number and title of the movement where no credit says it.
func (c *crediting) unsaidMovement(credits []roled) string {
	title := musicxml.ChildText(c.root, "movement-title")
	if title == "" || title == musicxml.Text(musicxml.Descend(c.root, "work", "work-title")) {
		return ""
	}
	said := map[string]bool{}
	for _, k := range credits {
		for _, word := range lexicon.Tokens(creditText(k.element)) {
			said[word] = true
		}
	}
	for _, word := range lexicon.Tokens(title) {
		if !said[word] {
			return numbered(musicxml.ChildText(c.root, "movement-number"), title)
		}
	}
	return ""
}

// numbered puts the number of a movement before its title, unless the title has it.
func numbered(number, title string) string {
	if number == "" || strings.HasPrefix(title, number) {
		return title
	}
	return strings.TrimSuffix(number, ".") + ". " + title
}

// credit makes a credit of the first page.
func (c *crediting) credit(role, text string, size float64) *etree.Element {
	e := etree.NewElement("credit")
	e.CreateAttr("page", "1")
	if role != "" {
		e.CreateElement("credit-type").SetText(role)
	}
	words := e.CreateElement("credit-words")
	words.SetText(text)
	words.CreateAttr("font-size", c.points(size))
	return e
}

func (c *crediting) points(size float64) string { return strings.TrimSuffix(formatNumber(size), ".0") }
