package draft

import (
	"slices"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// WordsIn returns the <words> of a direction.
func WordsIn(direction *etree.Element) []*etree.Element {
	return musicxml.Along(direction, "direction-type", "words")
}

// WordsAbove is a direction of words over the staff, with an attribute, such as font-style italic.
func WordsAbove(text, key, value string) *etree.Element {
	direction := etree.NewElement("direction")
	direction.CreateAttr("placement", "above")
	words := direction.CreateElement("direction-type").CreateElement("words")
	if key != "" {
		words.CreateAttr(key, value)
	}
	words.SetText(text)
	return direction
}

// MostLines is the highest number of a line (MusicXML 4.0, number-level).
const MostLines = 16

// Renumber gives a line a number that is higher by so many, from 1 again past the highest;
// one that has none is the first.
func Renumber(line *etree.Element, by int) {
	n, err := strconv.Atoi(musicxml.Attr(line, "number"))
	if err != nil {
		n = 1
	}
	line.CreateAttr("number", strconv.Itoa((n+by-1)%MostLines+1))
}

// OnTopStaff puts a mark on the first staff of a part that has several.
func (s *Draft) OnTopStaff(e *etree.Element) {
	if s.Staves > 1 {
		musicxml.SetChildText(e, "staff", "1")
	}
}

// DropMark takes a mark out, and what holds nothing without it: the group of a note's marks,
// or a direction.
func DropMark(mark *etree.Element) {
	for e := mark; e != nil; {
		parent := e.Parent()
		parent.RemoveChild(e)
		empty := len(parent.ChildElements()) == 0
		if parent.Tag == "direction" {
			empty = musicxml.Child(parent, "direction-type") == nil
		}
		if !empty || parent.Tag == "note" || parent.Parent() == nil {
			return
		}
		e = parent
	}
}

// DropAttribute takes an element out of its <attributes>, and those out of the measure where
// they held nothing else.
func DropAttribute(e *etree.Element) {
	attributes := e.Parent()
	if attributes == nil {
		return
	}
	attributes.RemoveChild(e)
	if measure := attributes.Parent(); measure != nil && len(attributes.ChildElements()) == 0 {
		measure.RemoveChild(attributes)
	}
}

// JoinedText joins the texts of an element's children of one name.
func JoinedText(e *etree.Element, tags ...string) string {
	var texts []string
	for c := range e.ChildElementsSeq() {
		for _, tag := range tags {
			if c.Tag == tag {
				texts = append(texts, musicxml.Text(c))
			}
		}
	}
	return strings.Join(texts, " ")
}

// HasOne reports whether an element has a child of one of these names.
func HasOne(e *etree.Element, tags ...string) bool {
	return slices.ContainsFunc(tags, func(tag string) bool { return musicxml.Child(e, tag) != nil })
}

// SaysNothing reports whether an element has neither attributes nor children.
func SaysNothing(e *etree.Element) bool { return len(e.Attr) == 0 && len(e.ChildElements()) == 0 }
