package header

import (
	"cmp"
	"math"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
)

// formatNumber writes two decimals. What lies in the middle goes up, also when it was
// worked out a second time from numbers that were rounded before.
func formatNumber(n float64) string {
	return strconv.FormatFloat(math.Round(n*100+1e-6)/100, 'f', -1, 64)
}

// place gives every credit its place on the part's page.
func (c *crediting) place(credits []roled) {
	for _, k := range credits {
		if k.role == roleTitle || k.role == roleSubtitle {
			c.placeMiddle(k.element)
		}
	}
	c.left = max(c.left, c.middle)
	c.right = c.middle
	foot := c.paper.topBottom
	for _, k := range credits {
		switch k.role {
		case roleTitle, roleSubtitle:
		case roleRights:
			foot = c.placeFoot(k.element, foot)
		case roleLyricist, "poet", "translator", "librettist":
			c.placeLeft(k.element)
		case roleComposer, roleArranger, "orchestrator", "transcriber":
			c.placeRight(k.element)
		default:
			c.placeBySide(k.element)
		}
	}
}

// placeBySide leaves a credit of unknown kind on the side where it stood.
func (c *crediting) placeBySide(credit *etree.Element) {
	words := printed(credit)
	if words == nil {
		return
	}
	switch x, said := share(words, "default-x", c.old.width); {
	case said && x < leftShare:
		c.placeLeft(credit)
	case said && x > rightShare:
		c.placeRight(credit)
	default:
		c.placeMiddle(credit)
		c.left, c.right = max(c.left, c.middle), max(c.right, c.middle)
	}
}

// printed returns what a credit prints first: words, a symbol or a picture.
func printed(credit *etree.Element) *etree.Element {
	for _, e := range credit.ChildElements() {
		switch e.Tag {
		case "credit-words", "credit-symbol", "credit-image":
			return e
		}
	}
	return nil
}

func (c *crediting) placeLeft(credit *etree.Element) {
	c.left = c.put(credit, c.paper.side, c.left, "left")
}

func (c *crediting) placeMiddle(credit *etree.Element) {
	c.middle = c.put(credit, c.paper.width/2, c.middle, "center")
}

func (c *crediting) placeRight(credit *etree.Element) {
	c.right = c.put(credit, c.paper.width-c.paper.side, c.right, "right")
}

// put places a credit with its top edge at a height below the page's, in
// millimetres, and returns where the next one goes.
func (c *crediting) put(credit *etree.Element, x, top float64, side string) float64 {
	e := c.set(credit, x, c.paper.height-top, side, "top")
	if e == nil {
		return top
	}
	return top + heightOf(credit)
}

// placeFoot places a credit above the foot margin and returns where the next one
// goes.
func (c *crediting) placeFoot(credit *etree.Element, foot float64) float64 {
	if c.set(credit, c.paper.width/2, foot, "center", "bottom") == nil {
		return foot
	}
	return foot + heightOf(credit)
}

// set writes the position of a credit; what follows the first words follows them
// on the page.
func (c *crediting) set(credit *etree.Element, x, y float64, side, valign string) *etree.Element {
	e := printed(credit)
	for _, child := range credit.ChildElements() {
		if strings.HasPrefix(child.Tag, "credit-") {
			draft.StripPositions(child)
		}
	}
	if e == nil {
		return nil
	}
	for _, key := range []string{"justify", "halign", "valign"} {
		e.RemoveAttr(key) // so that they stand in the same order every time
	}
	e.CreateAttr("default-x", c.paper.tenths(x))
	e.CreateAttr("default-y", c.paper.tenths(y))
	if e.Tag != "credit-image" {
		e.CreateAttr("justify", side)
	}
	e.CreateAttr("halign", side)
	e.CreateAttr("valign", valign)
	return e
}

// heightOf estimates how high a credit is in millimetres, by its lines.
func heightOf(credit *etree.Element) float64 {
	lines, size, image := 1, 0.0, 0.0
	for _, e := range credit.ChildElements() {
		switch e.Tag {
		case "credit-words":
			lines += strings.Count(musicxml.Text(e), "\n")
			size = max(size, number(musicxml.Attr(e, "font-size")))
		case "credit-image":
			image = number(musicxml.Attr(e, "height")) * otherStaff / staffTenths
		}
	}
	size = cmp.Or(size, defaultSize)
	return max(float64(lines)*size*perPoint*leading, image)
}
