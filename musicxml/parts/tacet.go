package parts

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// markTacet finds out whether the player has nothing to play at all, and says so
// on the sheet.
func (s *sheet) markTacet() error {
	if !s.silent() || !s.othersPlay() {
		return nil
	}
	s.report.Tacet = true
	if len(s.timeline.Measures) == 0 {
		return nil
	}
	e := etree.NewElement("direction")
	e.CreateAttr("placement", "above")
	words := e.CreateElement("direction-type").CreateElement("words")
	words.CreateAttr("font-weight", "bold")
	words.SetText("Tacet")
	if s.staves > 1 {
		musicxml.SetChildText(e, "staff", "1")
	}
	m := &s.timeline.Measures[0]
	insertAt(m.Element, slotAt(m, musicxml.Fraction{}).before, e)
	return s.renew()
}

// silent reports whether nothing is played or sung from the part, nor anything that
// stands for notes: chord symbols, slashes.
func (s *sheet) silent() bool {
	for i, repeated := range repeatedBars(s.timeline) {
		if repeated || !idle(&s.timeline.Measures[i]) {
			return false
		}
	}
	return true
}

// othersPlay reports whether any part of the score has notes: where nobody plays,
// as in a sheet of empty staves, nobody is tacet.
func (s *sheet) othersPlay() bool {
	for i := range s.surveys {
		if s.surveys[i].Notes+s.surveys[i].Unpitched > 0 {
			return true
		}
	}
	return false
}
