package typeset

import (
	"slices"
	"strings"

	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/fonts"
	"deskpart/musicxml/engraving/paper"
)

// Options say how a document is set.
type Options struct {
	// Paper is the size of a page; default A4.
	Paper paper.Size
	// Large is large print: letters of 18 points (trade/teaching.md, section 6). Default:
	// 11 points.
	Large bool
	// Title and Language are what the document says of itself; the title stands at the
	// foot of every page.
	Title, Language string
}

// Sizes of letters in millimetres (a point is 25.4/72 mm), and how much larger those of
// titles and headings are.
const (
	usualSize, largeSize     display.Spaces = 11 * 25.4 / 72, 18 * 25.4 / 72
	titleScale, headingScale                = 1.5, 1.2
	footScale                               = 0.75
	leading                  display.Spaces = 1.3 // from line to line, times the size
	margin                   display.Spaces = 15  // metropole
	footHeight               display.Spaces = 7
)

// unit makes a staff space of a list of texts a millimetre.
const unit display.Millimetres = 1

// Setter collects what is set, from top to bottom.
type Setter struct {
	o      Options
	size   display.Spaces // of letters
	width  display.Spaces // of a line
	pieces []piece
	group  int // the number of the open group, 0 for none
	groups int
}

// New begins a document.
func New(o Options) *Setter {
	if o.Paper == (paper.Size{}) {
		o.Paper, _ = paper.ParseSize("a4")
	}
	s := &Setter{o: o, size: usualSize, width: display.Spaces(o.Paper.Width) - 2*margin}
	if o.Large {
		s.size = largeSize
	}
	return s
}

// piece is what is not parted by the end of a page.
type piece struct {
	block  display.Block
	height display.Spaces // in millimetres
	// before is the distance from what stands above, none at the top of a page.
	before display.Spaces
	// keep holds it on the page of the piece that follows.
	keep bool
	// fresh begins a new page.
	fresh bool
	// group is that of pieces set together, 0 for none.
	group int
}

func (s *Setter) add(p piece) {
	p.group = s.group
	s.pieces = append(s.pieces, p)
}

// Together keeps what is set within on one page, where one has room for it.
func (s *Setter) Together(set func()) {
	s.groups++
	s.group = s.groups
	set()
	s.group = 0
}

// NewPage begins a new page with what follows, if anything stands on this one.
func (s *Setter) NewPage() {
	if len(s.pieces) > 0 {
		s.pieces = append(s.pieces, piece{fresh: true})
	}
}

// Space keeps a distance, in lines of text.
func (s *Setter) Space(lines float64) {
	s.add(piece{height: display.Spaces(lines) * s.size * leading})
}

// Title heads the document, with a line below it.
func (s *Setter) Title(text string) {
	s.text(paragraph{runs: []Run{Bold(text)}, size: s.size * titleScale, purpose: display.Title, keep: true})
}

// Heading heads a section.
func (s *Setter) Heading(text string) {
	s.text(paragraph{runs: []Run{Bold(text)}, size: s.size * headingScale, purpose: display.Heading, before: s.size * 0.9, keep: true})
}

// Text is a paragraph.
func (s *Setter) Text(runs ...Run) { s.text(paragraph{runs: runs, before: s.size * 0.3}) }

// Lead is a paragraph that stays with what follows.
func (s *Setter) Lead(runs ...Run) {
	s.text(paragraph{runs: runs, before: s.size * 0.3, keep: true})
}

// Item is a paragraph that hangs behind its label: a number, a bullet.
func (s *Setter) Item(label string, runs ...Run) {
	s.text(paragraph{label: label, runs: runs, before: s.size * 0.35})
}

// Rule is a line across the page.
func (s *Setter) Rule() {
	s.add(piece{block: s.list(display.Paragraph, across(0, s.width, s.size*0.25, 0.35)), height: s.size * 0.5, keep: true})
}

// list is a block of texts and lines in millimetres.
func (s *Setter) list(purpose display.Purpose, items ...display.Item) display.Block {
	return display.Block{Purpose: purpose, Space: unit, Items: items}
}

func across(from, to, y, thickness display.Spaces) display.Item {
	return display.Item{Shape: display.Line{Points: []display.Point{{X: from, Y: y}, {X: to, Y: y}}, Thickness: thickness}}
}

// letters is a text; what no font has stands as a question mark.
func letters(text string, face fonts.Face, x, baseline, size display.Spaces, anchor display.Anchor) display.Item {
	missing := face.Missing(text)
	text = strings.Map(func(r rune) rune {
		if slices.Contains(missing, r) {
			return '?'
		}
		return r
	}, text)
	return display.Item{Role: display.RoleWords, Shape: display.Text{Text: text, At: display.Point{X: x, Y: baseline}, Anchor: anchor, Face: face, Size: size}}
}
