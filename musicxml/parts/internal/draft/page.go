package draft

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/survey"
)

// stripPage takes out what else describes the score's page: page and system breaks
// and their distances.
func (s *Draft) stripPage() {
	for m := range musicxml.Each(s.Part, "measure") {
		for _, print := range musicxml.Children(m, "print") {
			s.stripNames(print)
			stripPrint(m, print)
		}
	}
}

// StripPositions takes the attributes that place something on the score's page out
// of a copy.
func StripPositions(e *etree.Element) {
	kept := e.Attr[:0]
	for _, a := range e.Attr {
		if a.Space != "" || survey.NotDrawn(e.Tag, a.Key) {
			kept = append(kept, a)
		}
	}
	e.Attr = kept
	for _, token := range e.Child {
		if c, ok := token.(*etree.Element); ok {
			StripPositions(c)
		}
	}
}

// stripPrint keeps of a <print> what is not layout: how bars are numbered.
func stripPrint(measure, print *etree.Element) {
	for _, key := range []string{"new-system", "new-page", "blank-page", "page-number", "staff-spacing"} {
		RemoveAttr(print, key)
	}
	musicxml.RemoveChildren(print, "page-layout", "system-layout", "staff-layout")
	if !startsCoda(measure) {
		musicxml.RemoveChildren(print, "measure-layout")
	}
	if SaysNothing(print) {
		measure.RemoveChild(print)
	}
}

// stripNames takes out of a <print> the names that are not the player's: those of a staff
// that others share, or of another instrument, and those that only say again what stands
// at the head. The name of an instrument that the player changes to stays.
func (s *Draft) stripNames(print *etree.Element) {
	for _, tag := range []string{"part-name-display", "part-abbreviation-display"} {
		for _, e := range musicxml.Children(print, tag) {
			if !s.keepsName(musicxml.DisplayText(e)) {
				print.RemoveChild(e)
			}
		}
	}
}

func (s *Draft) keepsName(text string) bool {
	if s.OtherInstrument() || s.Assignment.Player > 0 {
		return false
	}
	own := &s.Score.ScoreParts[s.Assignment.Part]
	if text == own.Name || text == own.NameDisplay || text == own.Abbreviation || text == s.Assignment.Label {
		return false
	}
	named := s.Score.Catalogue.Match(instruments.Query{Name: text}).Instrument
	return named == nil || named != s.Assignment.Instrument
}

// startsCoda reports whether a coda begins in a measure, whose distance from the
// music before it is kept.
func startsCoda(measure *etree.Element) bool {
	return len(musicxml.Along(measure, "direction", "direction-type", "coda")) > 0
}

// RemoveAttr removes an attribute; the tree's own call returns a copy of it, which
// nobody needs.
func RemoveAttr(e *etree.Element, key string) {
	e.Attr = slices.DeleteFunc(e.Attr, func(a etree.Attr) bool { return a.Key == key && a.Space == "" })
}

// RemoveIDs takes unique ids out of a copy: the original keeps them.
func RemoveIDs(e *etree.Element) {
	RemoveAttr(e, "id")
	for _, c := range e.ChildElements() {
		RemoveIDs(c)
	}
}

// Stripped copies an element without its place on the page and without ids.
func Stripped(e *etree.Element) *etree.Element {
	c := e.Copy()
	StripPositions(c)
	RemoveIDs(c)
	return c
}
