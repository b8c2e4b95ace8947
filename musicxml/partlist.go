package musicxml

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"github.com/beevik/etree"
)

// ScorePart is an entry of the part-list.
type ScorePart struct {
	ID           string
	Name         string // text of part-name
	NameDisplay  string // texts of part-name-display, accidentals as their signs
	Abbreviation string // text of part-abbreviation, or of its display
	Instruments  []ScoreInstrument
	Groups       []string       // names of the groups around the part, outermost first
	Element      *etree.Element // the score-part in the header
}

// ScoreInstrument is a score-instrument of a score-part.
type ScoreInstrument struct {
	ID    string
	Name  string // text of instrument-name
	Sound string // standard sound id, such as "wind.reed.clarinet.bflat"
	// Program is the General MIDI program of the playback, 1 to 128, 0 where the
	// score says none.
	Program int
}

// ScoreParts returns the entries of the part-list in order.
func (s *Score) ScoreParts() []ScorePart {
	var list []ScorePart
	var groups []group
	for _, e := range s.partList() {
		switch e.Tag {
		case "part-group":
			groups = nextGroups(groups, e)
		case "score-part":
			list = append(list, newScorePart(e, groups))
		}
	}
	return list
}

// partList returns the elements of the part-list.
func (s *Score) partList() []*etree.Element {
	list := Child(s.Header.Root(), "part-list")
	if list == nil {
		return nil
	}
	return list.ChildElements()
}

func newScorePart(e *etree.Element, groups []group) ScorePart {
	p := ScorePart{
		ID:           idOf(e),
		Name:         ChildText(e, "part-name"),
		NameDisplay:  DisplayText(Child(e, "part-name-display")),
		Abbreviation: cmp.Or(ChildText(e, "part-abbreviation"), DisplayText(Child(e, "part-abbreviation-display"))),
		Element:      e,
	}
	for _, i := range Children(e, "score-instrument") {
		p.Instruments = append(p.Instruments, ScoreInstrument{ID: idOf(i), Name: ChildText(i, "instrument-name"),
			Sound: ChildText(i, "instrument-sound"), Program: programOf(e, idOf(i))})
	}
	for _, g := range groups {
		if g.name != "" {
			p.Groups = append(p.Groups, g.name)
		}
	}
	return p
}

// programOf returns the playback program of a score-instrument, 0 for none.
func programOf(scorePart *etree.Element, id string) int {
	for _, m := range Children(scorePart, "midi-instrument") {
		if idOf(m) == id {
			n, err := strconv.Atoi(ChildText(m, "midi-program"))
			if err == nil && n >= 1 && n <= 128 {
				return n
			}
		}
	}
	return 0
}

// LoneProgram is the playback program of a part that has no score-instrument for it, 0
// for none.
func (p *ScorePart) LoneProgram() int {
	for m := range Each(p.Element, "midi-instrument") {
		if n := programOf(p.Element, idOf(m)); n > 0 {
			return n
		}
	}
	return 0
}

// idOf returns an element's id without the white space that an id may have
// around it.
func idOf(e *etree.Element) string { return strings.TrimSpace(e.SelectAttrValue("id", "")) }

// group is a part-group that has begun and not ended.
type group struct{ number, name string }

// openGroups is how many groups may be open at a time; no list needs that many.
const openGroups = 100

// nextGroups returns the groups that are open after a part-group element.
// Groups may overlap, so that their number tells which one ends.
func nextGroups(open []group, e *etree.Element) []group {
	number := e.SelectAttrValue("number", "1")
	open = slices.DeleteFunc(open, func(g group) bool { return g.number == number })
	if e.SelectAttrValue("type", "") == "start" && len(open) < openGroups {
		open = append(open, group{number, groupName(e)})
	}
	return open
}

// accidentalSigns are the signs of the accidental-text values that part names have.
var accidentalSigns = map[string]string{"flat": "♭", "natural": "♮", "sharp": "♯", "flat-flat": "𝄫", "double-sharp": "𝄪", "sharp-sharp": "♯♯"}

// DisplayText returns the text of part-name-display and its kind.
func DisplayText(e *etree.Element) string {
	if e == nil {
		return ""
	}
	var b strings.Builder
	for _, piece := range e.ChildElements() {
		text := RawText(piece)
		if piece.Tag != "display-text" {
			text = cmp.Or(accidentalSigns[strings.TrimSpace(text)], text)
		}
		b.WriteString(text)
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// partName returns the part-name of the entry with that id, or "".
func (s *Score) partName(id string) string {
	for _, e := range s.partList() {
		if e.Tag == "score-part" && idOf(e) == id {
			return ChildText(e, "part-name")
		}
	}
	return ""
}

// groupName returns what a group is called: by its name, its name as displayed, or
// else its abbreviation.
func groupName(e *etree.Element) string {
	return cmp.Or(ChildText(e, "group-name"), DisplayText(Child(e, "group-name-display")), ChildText(e, "group-abbreviation"))
}
