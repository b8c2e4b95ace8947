package paper

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/display"
)

// UsualStaff is the height of a staff for an instrument, nil for one that is not
// known. Players of strings, harp, timpani and percussion sit or stand farther from
// the page: 8 to 8.5 mm; winds have 7.5 mm and no less (kriterien). Whoever is named
// in neither has the 8 mm of metropole. Many staves below one another are those of a
// choir's score, which are smaller. A part in tablature alone is larger, so that its
// figures are as large as those of fingerings elsewhere.
func UsualStaff(i *instruments.Instrument, b *Book) display.Millimetres {
	for _, m := range b.Movements {
		if m.Music != nil && len(m.Music.Staves) >= scoreStaves {
			return scoreStaff
		}
		if m.Music != nil && isTablature(m.Music) {
			return tablatureStaff
		}
	}
	if i != nil && i.IsWind() {
		return windStaff
	}
	return usualStaff
}

// scoreStaves make a score, whose staves are scoreStaff high (memory: vocal scores are
// set in 5.5 to 6.5 mm).
const (
	scoreStaves                     = 4
	scoreStaff  display.Millimetres = 6
)

// tablatureStaff makes the distance of strings 2.5 mm; publishers have 2.5 to 3 mm
// (common practice, no source).
const tablatureStaff display.Millimetres = 10

// isTablature reports whether all staves of a part begin as tablature.
func isTablature(m *engraving.Music) bool {
	for i := range m.Staves {
		measures := m.Staves[i].Measures
		if len(measures) == 0 || !slices.ContainsFunc(measures[0].Changes, func(c engraving.Change) bool {
			return c.Clef != nil && c.Clef.Sign == engraving.ClefTab && c.Onset.Sign() <= 0
		}) {
			return false
		}
	}
	return true
}

// windStaff is the least height of a staff that winds accept (kriterien).
const windStaff display.Millimetres = 7.5

// UsualSize is the paper that printers hold where a language is spoken: A4, but for
// English, which is spoken where printers hold A4 and where they hold Letter: there
// it is the one of them that the document itself was set for, own, and Letter where
// it was set for neither, because the likeliest country of English by the Unicode
// tables of likely subtags is the United States. Orchestras' own paper is larger
// (metropole: 257 by 364 mm) and has to be asked for.
func UsualSize(language string, own Size) Size {
	english := language == "" || strings.HasPrefix(language, "en")
	if !english || own.isNear(sizes["a4"]) {
		return sizes["a4"]
	}
	return sizes["letter"]
}

// isNear reports whether two papers are one but for rounding.
func (s Size) isNear(other Size) bool {
	const near = 2 // mm
	return math.Abs(float64(s.Width-other.Width)) < near && math.Abs(float64(s.Height-other.Height)) < near
}

// readSheet is the paper that a document was set for; the zero size where it does not
// say (MusicXML 4.0, scaling and page-layout).
func readSheet(root *etree.Element) Size {
	defaults := musicxml.Child(root, "defaults")
	length := func(tags ...string) float64 {
		n, err := strconv.ParseFloat(musicxml.Text(musicxml.Descend(defaults, tags...)), 64)
		if err != nil {
			return 0
		}
		return n
	}
	tenths := length("scaling", "tenths")
	if tenths <= 0 {
		return Size{}
	}
	scale := length("scaling", "millimeters") / tenths
	return Size{display.Millimetres(length("page-layout", "page-width") * scale), display.Millimetres(length("page-layout", "page-height") * scale)}
}
