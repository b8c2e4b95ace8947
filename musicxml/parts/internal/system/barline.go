package system

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
)

// barline is a bar line with what holds for everybody: its style, repeat, ending,
// signs and pauses.
type barline struct {
	musicxml.Position                // the onset counts for those in the middle, else it is 0
	location          string         // left, right or middle
	element           *etree.Element // a copy
}

// styleRanks orders bar-line styles by how much they say of the form of the piece;
// those of rank 0 are drawn for one staff alone and are not spread.
var styleRanks = map[string]int{
	"light-heavy": 5, "heavy-light": 5, "heavy-heavy": 5, "light-light": 4, "heavy": 3, "dashed": 2, "dotted": 2,
}

func styleRank(barline *etree.Element) int {
	return styleRanks[musicxml.ChildText(barline, "bar-style")]
}

// barline keeps a bar line if it says something to everybody.
func (g *gatherer) barline(ev *musicxml.Event) {
	if g.own || styleRank(ev.Element) == 0 && !draft.HasOne(ev.Element, "segno", "coda", "fermata", "ending", "repeat") {
		return
	}
	b := barline{Position: g.at(musicxml.Fraction{}), location: draft.LocationOf(ev.Element)}
	if b.location == "middle" {
		b.Onset = ev.Onset
	}
	b.element = g.keep(ev.Element, "footnote", "level", "wavy-line")
	b.element.RemoveAttr("divisions")
	g.barlines = append(g.barlines, b)
}

// completeBarline adds to a bar line what another part's bar line at the same
// place says and it does not.
func completeBarline(b, from *etree.Element) {
	if styleRank(from) > styleRank(b) {
		musicxml.SetChildText(b, "bar-style", musicxml.ChildText(from, "bar-style"))
	}
	for _, tag := range []string{"segno", "coda", "fermata", "repeat"} {
		if musicxml.Child(b, tag) == nil {
			for _, c := range musicxml.Children(from, tag) {
				musicxml.AddInOrder(b, c.Copy())
			}
		}
	}
	completeEnding(b, musicxml.Child(from, "ending"))
	for _, key := range []string{"segno", "coda"} {
		if v := musicxml.Attr(from, key); v != "" && musicxml.Attr(b, key) == "" {
			b.CreateAttr(key, v)
		}
	}
}

// completeEnding adds an ending, and shows one that only this part hid.
func completeEnding(b, from *etree.Element) {
	own := musicxml.Child(b, "ending")
	switch {
	case from == nil:
	case own == nil:
		musicxml.AddInOrder(b, from.Copy())
	case musicxml.Attr(own, "print-object") == "no" && musicxml.Attr(from, "print-object") != "no":
		own.RemoveAttr("print-object")
	}
}

// addBarlines writes repeats, endings and double bars that only other parts have,
// and shows those that the score hides in lower parts.
func (s *adder) addBarlines() {
	for _, b := range s.road.barlines {
		if b.Measure < len(s.Timeline.Measures) {
			s.addBarline(b)
		}
	}
	s.freeEndings()
}

func (s *adder) addBarline(b barline) {
	if own := s.ownBarline(b); own != nil {
		completeBarline(own, b.element)
	} else {
		s.insertBarline(b)
	}
}

// ownBarline finds the part's own bar line at a place.
func (s *adder) ownBarline(b barline) *etree.Element {
	for _, ev := range s.Timeline.Measures[b.Measure].Events {
		if ev.Kind == musicxml.Barline && draft.LocationOf(ev.Element) == b.location &&
			(b.location != "middle" || ev.Onset == b.Onset) {
			return ev.Element
		}
	}
	return nil
}

func (s *adder) insertBarline(b barline) {
	m := &s.Timeline.Measures[b.Measure]
	switch b.location {
	case "left":
		m.Element.InsertChildAt(afterPrint(m.Element), b.element.Copy())
	case "right":
		m.Element.AddChild(b.element.Copy())
	default:
		s.InsertInside(m, b.Onset, b.element.Copy())
	}
}

// afterPrint is where a left bar line belongs: before everything but <print>.
func afterPrint(measure *etree.Element) int {
	at := 0
	for i, token := range measure.Child {
		if e, ok := token.(*etree.Element); ok && e.Tag == "print" {
			at = i + 1
		}
	}
	return at
}

// freeEndings takes out of the part's endings that they belong to the system: in a
// part there is no other.
func (s *adder) freeEndings() {
	for _, ending := range musicxml.Along(s.Part, "measure", "barline", "ending") {
		draft.RemoveAttr(ending, "system")
	}
}
