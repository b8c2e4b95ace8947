package header

import (
	"math"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// paper is the page that a part is written for, in millimetres.
type paper struct {
	width, height   float64
	side, topBottom float64 // margins
	staff           float64 // height of a staff
}

// Sheets of paper in millimetres.
const (
	a4Width, a4Height         = 210, 297
	letterWidth, letterHeight = 215.9, 279.4
)

// Part paper is at least about A4 or Letter and at most 270 by 360 mm (trade:
// part-preparation section 8, German criteria to 27 x 36 cm, Metropole 257 x 364).
const (
	leastWidth, mostWidth   = 200, 275
	leastHeight, mostHeight = 270, 365
)

// Margins as the Metropole guide has them (part-preparation section 8).
const (
	sideMargin      = 15
	topBottomMargin = 10
)

// Heights of a staff: winds 7.5 mm, strings, harp, timpani and percussion from 8
// mm on (German criteria); 8 mm where nothing is said of the instrument (Metropole).
const (
	windStaff  = 7.5
	otherStaff = 8
)

// staffTenths is the height of a staff in tenths (MusicXML 4.0, tenths).
const staffTenths = 40

// paper chooses the page: the score's own size if parts are printed on it, else
// the paper that a score of its size is twice as large as, else A4.
func (s *maker) paper(defaults *etree.Element) paper {
	p := paper{width: a4Width, height: a4Height, side: sideMargin, topBottom: topBottomMargin, staff: otherStaff}
	if in := s.Assignment.Instrument; in != nil && in.IsWind() {
		p.staff = windStaff
	}
	old, mm := oldPage(defaults), perTenth(defaults)
	width, height := old.width*mm, old.height*mm
	switch {
	case width >= leastWidth && width <= mostWidth && height >= leastHeight && height <= mostHeight:
		p.width, p.height = width, height
	case isAbout(min(width, height), letterHeight) && isAbout(max(width, height), 2*letterWidth),
		isAbout(min(width, height), letterWidth) && isAbout(max(width, height), letterHeight),
		isAbout(min(width, height), letterWidth) && isAbout(max(width, height), 355.6): // Legal
		p.width, p.height = letterWidth, letterHeight
	}
	// As it will be written, so that a part made of the part has the same page.
	p.width, p.height = p.asWritten(p.width), p.asWritten(p.height)
	return p
}

// asWritten is a length in millimetres as it is read out of the tenths that are written
// for it.
func (p paper) asWritten(mm float64) float64 { return number(p.tenths(mm)) * p.staff / staffTenths }

func isAbout(a, b float64) bool { return math.Abs(a-b) < 3 }

// perTenth is how many millimetres one tenth is on the score's page, 0 unsaid.
func perTenth(defaults *etree.Element) float64 {
	scaling := musicxml.Child(defaults, "scaling")
	tenths := number(musicxml.ChildText(scaling, "tenths"))
	if tenths <= 0 {
		return 0
	}
	return number(musicxml.ChildText(scaling, "millimeters")) / tenths
}

// number reads a layout number, 0 where it is none.
func number(text string) float64 {
	n, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(n) || math.IsInf(n, 0) {
		return 0
	}
	return n
}

// tenths writes a length in millimetres in tenths of this page.
func (p paper) tenths(mm float64) string {
	return formatNumber(mm * staffTenths / p.staff)
}

// write puts the page into <defaults>.
func (p paper) write(defaults *etree.Element) {
	musicxml.RemoveChildren(defaults, "scaling", "page-layout", "system-layout", "staff-layout")
	scaling := etree.NewElement("scaling")
	scaling.CreateElement("millimeters").SetText(strconv.FormatFloat(p.staff, 'f', -1, 64))
	scaling.CreateElement("tenths").SetText(strconv.Itoa(staffTenths))
	musicxml.AddInOrder(defaults, scaling)
	page := etree.NewElement("page-layout")
	page.CreateElement("page-height").SetText(p.tenths(p.height))
	page.CreateElement("page-width").SetText(p.tenths(p.width))
	margins := page.CreateElement("page-margins")
	margins.CreateAttr("type", "both")
	for _, m := range []struct {
		tag string
		mm  float64
	}{{"left-margin", p.side}, {"right-margin", p.side}, {"top-margin", p.topBottom}, {"bottom-margin", p.topBottom}} {
		margins.CreateElement(m.tag).SetText(p.tenths(m.mm))
	}
	musicxml.AddInOrder(defaults, page)
}
