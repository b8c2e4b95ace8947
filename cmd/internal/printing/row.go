package printing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/paper"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/reading"
)

// Row is what is said of a printed part, for programs.
type Row struct {
	Label      string     `json:"label"`
	SourcePart string     `json:"source_part"`
	File       string     `json:"file"`             // where it was printed to, of drawings the first; "" if it was not
	Failed     bool       `json:"failed,omitempty"` // it could not be printed: the last warning says why
	Paper      [2]float64 `json:"paper"`            // width and height in mm
	Staff      float64    `json:"staff"`            // height in mm
	// Pages in order.
	Pages []Page `json:"pages"`
	// Turns are those that the player makes, in order.
	Turns    []Turn             `json:"turns"`
	NotDrawn []NotDrawn         `json:"not_drawn"`
	Warnings []musicxml.Warning `json:"warnings"`
}

// Page is what stands on a page.
type Page struct {
	First   Measure `json:"first_measure"`
	Last    Measure `json:"last_measure"`
	Systems int     `json:"systems"`
}

// Measure is one of a movement's by its number and its place.
type Measure struct {
	Movement int    `json:"movement,omitempty"` // from 0
	Number   string `json:"number"`
	Index    int    `json:"index"` // from 0
}

// Turn is a page turn with the time that the player has for it.
type Turn struct {
	Page        int     `json:"page"` // the number of the page that is turned
	RestSeconds float64 `json:"rest_seconds"`
}

// NotDrawn counts an element of a part that the engraver does not draw.
type NotDrawn struct {
	Element string `json:"element"`
	Count   int    `json:"count"`
}

// NewRow is the row of a part that is on no page.
func NewRow(label, id string) Row {
	return Row{Label: label, SourcePart: id, Pages: []Page{}, Turns: []Turn{}, NotDrawn: []NotDrawn{}, Warnings: []musicxml.Warning{}}
}

func newRow(book *paper.Book, laid *paper.Laid, o paper.Options) Row {
	row := NewRow(oneLine(book.Instrument), "")
	row.Paper, row.Staff = [2]float64{millimetres(float64(o.Paper.Width)), millimetres(float64(o.Paper.Height))}, millimetres(float64(o.Staff))
	for _, s := range laid.Spans {
		row.Pages = append(row.Pages, Page{First: measureOf(book, s.FirstMovement, s.FirstBar, false), Last: measureOf(book, s.LastMovement, s.LastBar, true), Systems: s.Systems})
	}
	for _, t := range laid.Turns {
		row.Turns = append(row.Turns, Turn{t.Page, seconds(t.Rest)})
		if !t.InTime() {
			last := measureOf(book, t.Movement, t.Bar, true)
			row.Warnings = append(row.Warnings, musicxml.Warning{Code: notice.Turn, Movement: movementOf(book, t.Movement), Measure: last.Number,
				Text: fmt.Sprintf("page %d is turned with %.1f seconds of rest", t.Page, seconds(t.Rest))})
		}
	}
	for _, small := range laid.Small {
		row.Warnings = append(row.Warnings, musicxml.Warning{Code: notice.SmallStaff, Movement: movementOf(book, small.Movement), Measure: measureOf(book, small.Movement, small.Bar, false).Number,
			Text: fmt.Sprintf("the staff is %.1f mm high here, because the bar is wider than the page", float64(small.Staff))})
	}
	for i := range book.Movements {
		if m := &book.Movements[i]; m.Music != nil {
			row.miss(m.Music.NotDrawn, movementOf(book, i))
		}
	}
	return row
}

// misread names the notes of a document that a player reads otherwise than it has them: a
// file that is printed as it is may lack accidentals.
func misread(root *etree.Element, movement int) []musicxml.Warning {
	var list []musicxml.Warning
	for _, part := range musicxml.Children(root, "part") {
		page, err := reading.Read(part)
		if err != nil {
			continue // as whoever draws it says
		}
		for _, m := range page.Mismatches() {
			list = append(list, musicxml.Warning{Code: notice.ReadOtherwise, Movement: movement, Measure: m.Measure, Beat: m.Beat,
				Text: m.Written.String() + " is read as " + m.Read.String() + " off the page"})
		}
	}
	return list
}

// movementOf numbers a movement from 1 for a warning, 0 where there is but one.
func movementOf(book *paper.Book, i int) int {
	if len(book.Movements) < 2 {
		return 0
	}
	return i + 1
}

// miss says what of a movement is not drawn, each with its bars.
func (r *Row) miss(list []engraving.NotDrawn, movement int) {
	for _, n := range list {
		at := slices.IndexFunc(r.NotDrawn, func(have NotDrawn) bool { return have.Element == n.Element })
		if at < 0 {
			at = len(r.NotDrawn)
			r.NotDrawn = append(r.NotDrawn, NotDrawn{Element: n.Element})
		}
		r.NotDrawn[at].Count += n.Count
		text := "not drawn: " + n.Element
		if n.Count > 1 {
			text += fmt.Sprintf(", %d times, in measures %s", n.Count, strings.Join(n.Bars, ", "))
		}
		r.Warnings = append(r.Warnings, musicxml.Warning{Code: notice.NotDrawn, Movement: movement, Measure: n.Bars[0], Text: text})
	}
}

// InWords says what was printed, for people.
func (r *Row) InWords() string {
	words := notice.Counted(len(r.Pages), "page", "pages")
	if len(r.Turns) == 0 {
		return words
	}
	least := r.Turns[0].RestSeconds
	for _, t := range r.Turns {
		least = min(least, t.RestSeconds)
	}
	words += ", " + notice.Counted(len(r.Turns), "turn", "turns")
	if least < longest {
		words += fmt.Sprintf(" with %.1f s of rest", least)
		if len(r.Turns) > 1 {
			words += " or more"
		}
	}
	return words
}

// measureOf is a drawn bar's measure; of a multi-bar rest the first or the last.
func measureOf(book *paper.Book, movement, bar int, last bool) Measure {
	m := &book.Movements[movement]
	found := Measure{Movement: movement}
	if m.Music == nil || bar >= len(m.Music.Bars) { // silent all through, or without a bar
		return found
	}
	found.Index = bar
	if source := m.Music.Bars[bar].Source; source > 0 {
		found.Index = source - 1
	}
	if n := m.Music.Bars[bar].RestBars; last && n > 1 {
		found.Index += n - 1
	}
	if found.Index < len(m.Measures) {
		found.Number = m.Measures[found.Index]
	}
	return found
}

// longest is what is said of a turn that has all the time there is, as JSON has no
// infinity.
const longest = 3600

// seconds are rounded down, so that what is too short never looks long enough.
func seconds(rest float64) float64 { return math.Floor(min(rest, longest)*10) / 10 }

func millimetres(mm float64) float64 { return math.Round(mm*100) / 100 }

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }
