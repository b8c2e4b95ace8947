package paper

import (
	"slices"
	"strconv"
	"strings"

	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/fonts"
)

// Heights and sizes of what stands on a page beside music, in staff spaces.
const (
	headHeight    display.Spaces = 4 // of the running head of later pages
	headingHeight display.Spaces = 5 // of a movement's title
	tacetHeight   display.Spaces = 5
	titleSize     display.Spaces = 4.2
	subtitleSize  display.Spaces = 2.4
	nameSize      display.Spaces = 3
	creatorSize   display.Spaces = 2.1
	headingSize   display.Spaces = 2.6
	headSize      display.Spaces = 1.9
	rightsSize    display.Spaces = 1.5
	rightsAir     display.Spaces = 2   // over the rights, so that they are not taken for music
	leading       display.Spaces = 1.2 // times the size, from line to line
)

// height is that of a page between its margins.
func (s *setter) height() display.Spaces {
	return display.Spaces((s.o.Paper.Height - 2*s.o.foot()) / s.o.space())
}

// room is the height for lines on a page, by its number from 0.
func (s *setter) room(page int) display.Spaces {
	height := s.height() - s.headOf(page)
	if rights := heightOfText(s.book.Rights, rightsSize); page == 0 && rights > 0 {
		height -= rights + rightsAir
	}
	return max(height, 4)
}

func lines(text string) []string {
	if text = strings.TrimSpace(text); text == "" {
		return nil
	}
	return strings.Split(text, "\n")
}

func heightOfText(text string, size display.Spaces) display.Spaces {
	return display.Spaces(len(lines(text))) * size * leading
}

// titleBlock is the head of the first page: the heights at which title, subtitle and the names of those who
// wrote the work begin at the left and at the right, and where all of it ends.
type titleBlock struct{ title, subtitle, names, right, end display.Spaces }

// titleBlock arranges the head of the first page: the instrument at the upper left,
// the title in the middle, below it the subtitle and, at the sides, who wrote it
// (trade/part-preparation.md, section 1). What would run into each other stands below
// one another.
func (s *setter) titleBlock() (t titleBlock) {
	b, half := s.book, s.width()/2
	name := heightOfText(b.Instrument, nameSize)
	if wide(b.Title, fonts.Bold, titleSize)/2+wide(b.Instrument, fonts.Bold, nameSize)+1 > half {
		t.title = name
	}
	t.subtitle = t.title + heightOfText(b.Title, titleSize)
	t.names = t.subtitle
	if lines(b.Title) == nil {
		t.names = max(t.names, name)
	}
	left := wide(b.Lyricist, fonts.Regular, creatorSize)
	right := max(wide(b.Composer, fonts.Regular, creatorSize), wide(b.Arranger, fonts.Regular, creatorSize))
	if wide(b.Subtitle, fonts.Italic, subtitleSize)/2+max(left, right)+1 > half {
		t.names += heightOfText(b.Subtitle, subtitleSize)
	}
	if left > 0 {
		t.names = max(t.names, name)
	}
	if t.right = t.names; left+right+1 > s.width() {
		t.right += heightOfText(b.Lyricist, creatorSize)
	}
	t.end = max(name, t.subtitle+heightOfText(b.Subtitle, subtitleSize), t.names+heightOfText(b.Lyricist, creatorSize),
		t.right+heightOfText(b.Composer, creatorSize)+heightOfText(b.Arranger, creatorSize))
	return t
}

// wide is the width of the longest line of a text, as it is set.
func wide(text string, face fonts.Face, size display.Spaces) (width display.Spaces) {
	for _, line := range lines(text) {
		width = max(width, display.Text{Text: line, Face: face, Size: size}.Width())
	}
	return width
}

// assemble puts lines on pages.
func (s *setter) assemble(pages [][]line) *Laid {
	laid := &Laid{}
	even := display.Spaces((clearance + usualMore) / s.o.space()) // of a page without one before
	for i, page := range pages {
		p := display.Page{Width: s.o.Paper.Width, Height: s.o.Paper.Height}
		s.head(&p, i)
		fill := s.filling(i, page)
		if i+1 == len(pages) {
			fill.even = min(even, fill.even) // a last page has the distances of the one before
		}
		even = fill.even
		laid.Small = append(laid.Small, s.putLines(&p, page, s.headOf(i), fill)...)
		if i == 0 {
			s.rights(&p)
		}
		first, last := page[0].from, page[len(page)-1].to
		from, to := s.places[first], s.places[last-1]
		laid.Spans = append(laid.Spans, Span{from.number, first - from.from, to.number, last - 1 - to.from, len(page)})
		if i+1 < len(pages) && s.isTurned(i, len(pages)) {
			turn := Turn{Page: firstPage + i, Rest: s.restAt(last), Movement: to.number, Bar: last - 1 - to.from}
			laid.Turns = append(laid.Turns, turn)
			if !turn.InTime() {
				s.turnAtOnce(&p)
			}
		}
		laid.Pages = append(laid.Pages, p)
	}
	return laid
}

func (s *setter) isTurned(page, pages int) bool {
	return !s.o.OneSided && !s.o.FreeHands && pages > beside && (firstPage+page)%2 != 0
}

// filling is how a page's lines fill it: they stand the even distance from staff to
// staff apart, and farther only where so much air between their ink asks for it.
type filling struct{ even, air display.Spaces }

// filling spreads lines over a page: first they get air where their ink is close, then
// even distances. A page that is left short keeps the rest at its foot.
func (s *setter) filling(page int, lines []line) filling {
	f := filling{air: leastAir}
	room, gaps := s.gaps(page, lines, f.air)
	if len(gaps) == 0 {
		return f
	}
	for _, gap := range gaps {
		room -= gap
	}
	f.air += max(0, min(room/display.Spaces(len(gaps)), easyAir-leastAir))
	room, gaps = s.gaps(page, lines, f.air)
	slices.Sort(gaps)
	for n := len(gaps); n > 0; n-- {
		// The n nearest lines stand equally far apart, the others as they must.
		if even := room / display.Spaces(n); even >= gaps[n-1] {
			f.even = min(even, max(s.clear(lines[0].profile, lines[0].profile), gaps[n/2])+mostSpread)
			return f
		}
		room -= gaps[n-1]
	}
	return f
}

// gaps are the least distances from staff to staff of a page's lines, in their order,
// and the height that the page has for them.
func (s *setter) gaps(page int, lines []line, air display.Spaces) (room display.Spaces, gaps []display.Spaces) {
	room = s.room(page) - lines[len(lines)-1].profile.hangs
	var above *profile
	for _, l := range lines {
		if below := s.below(above, l, air); above == nil {
			room -= below
		} else {
			room -= l.profile.staves
			gaps = append(gaps, below-l.profile.staves)
		}
		above = l.profile
	}
	return room, gaps
}

// mostSpread is the most that is added to the least distance of two lines, as most of
// a page's lines have it, so that they fill their page; usualMore is what is added on a page that need not be filled
// (metropole: 9 to 11 mm from staff to staff, where 8 are the least).
const (
	mostSpread display.Spaces      = 4
	usualMore  display.Millimetres = 2
)

// putLines puts a page's lines below one another from a height on, counted from the
// upper margin.
func (s *setter) putLines(p *display.Page, lines []line, y display.Spaces, fill filling) (small []Small) {
	var above *profile
	for i, l := range lines {
		m := s.places[l.from]
		foot := y + s.below(above, l, fill.air)
		if i > 0 {
			foot = max(foot, y+fill.even+l.profile.staves)
		}
		top := foot - l.profile.staves
		if l.from == m.from && m.heading > 0 {
			s.heading(p, m, top-l.profile.rises-m.heading)
		}
		if m.layout == nil {
			s.tacet(p, top)
		} else {
			system := s.systemOf(m, l)
			space := s.o.space()
			if wide := widthOf(system); wide > s.width()+0.1 {
				space *= display.Millimetres(s.width() / wide)
				small = append(small, Small{m.number, l.from - m.from, 4 * space})
			}
			p.Blocks = append(p.Blocks, display.Block{Purpose: display.Music, Left: s.o.sides(),
				Top: s.top(top) - topOf(system).On(space), Space: space, System: system})
		}
		y, above = foot, l.profile
	}
	return small
}

// widthOf is how far the staves of a line reach.
func widthOf(system *display.System) (width display.Spaces) {
	for i := range system.Staves {
		system.Staves[i].Items.Walk(func(item display.Item) {
			if item.Role == display.RoleStaffLine {
				width = max(width, item.Shape.Bounds().Right)
			}
		})
	}
	return width
}

// top is a height on the page.
func (s *setter) top(y display.Spaces) display.Millimetres { return s.o.foot() + y.On(s.o.space()) }

func (s *setter) block(p *display.Page, purpose display.Purpose, items ...display.Item) {
	p.Blocks = append(p.Blocks, display.Block{Purpose: purpose, Left: s.o.sides(), Top: s.top(0), Space: s.o.space(), Items: items})
}

// column is a text of several lines below one another from a height on; it returns
// where it ends.
func (s *setter) column(p *display.Page, purpose display.Purpose, text string, x, y display.Spaces, anchor display.Anchor, face fonts.Face, size display.Spaces) display.Spaces {
	var items []display.Item
	for _, line := range lines(text) {
		y += size * leading
		items = append(items, s.text(line, x, y-size*(leading-0.9), anchor, face, size))
	}
	if len(items) > 0 {
		s.block(p, purpose, items...)
	}
	return y
}

// text is a line of letters, set smaller where it would be wider than the page.
func (s *setter) text(line string, x, y display.Spaces, anchor display.Anchor, face fonts.Face, size display.Spaces) display.Item {
	t := display.Text{Text: line, At: display.Point{X: x, Y: y}, Anchor: anchor, Face: face, Size: size}
	if w := t.Width(); w > s.width() {
		t.Size *= s.width() / w
	}
	return display.Item{Role: display.RoleWords, Shape: t}
}

// headOf is the height of a page's head.
func (s *setter) headOf(page int) display.Spaces {
	if page == 0 {
		return s.titleBlock().end + 2
	}
	return headHeight
}

// head writes the head of a page.
func (s *setter) head(p *display.Page, page int) {
	if page == 0 {
		s.titles(p)
		return
	}
	inner, outer := display.Start, display.End
	left, right := display.Spaces(0), s.width()
	if (firstPage+page)%2 == 0 {
		inner, outer, left, right = outer, inner, right, left
	}
	s.block(p, display.Furniture, s.text(strings.Join(lines(s.book.Instrument), ", "), left, headSize, inner, fonts.Regular, headSize),
		s.text(strconv.Itoa(firstPage+page), right, headSize, outer, fonts.Regular, headSize))
}

func (s *setter) titles(p *display.Page) {
	b, middle, t := s.book, s.width()/2, s.titleBlock()
	s.column(p, display.Title, b.Instrument, 0, 0, display.Start, fonts.Bold, nameSize)
	s.column(p, display.Title, b.Title, middle, t.title, display.Middle, fonts.Bold, titleSize)
	s.column(p, display.Paragraph, b.Subtitle, middle, t.subtitle, display.Middle, fonts.Italic, subtitleSize)
	s.column(p, display.Paragraph, b.Lyricist, 0, t.names, display.Start, fonts.Regular, creatorSize)
	y := s.column(p, display.Paragraph, b.Composer, s.width(), t.right, display.End, fonts.Regular, creatorSize)
	s.column(p, display.Paragraph, b.Arranger, s.width(), y, display.End, fonts.Regular, creatorSize)
}

func (s *setter) heading(p *display.Page, m *movement, y display.Spaces) {
	if m.Title != "" {
		s.block(p, display.Heading, s.text(m.Title, s.width()/2, y+headingSize, display.Middle, fonts.Bold, headingSize))
	}
}

func (s *setter) tacet(p *display.Page, y display.Spaces) {
	s.block(p, display.Paragraph, s.text("tacet", s.width()/2, y+subtitleSize, display.Middle, fonts.Italic, subtitleSize))
}

func (s *setter) rights(p *display.Page) {
	s.column(p, display.Paragraph, s.book.Rights, s.width()/2, s.height()-heightOfText(s.book.Rights, rightsSize), display.Middle, fonts.Regular, rightsSize)
}

// turnAtOnce warns of a turn without time, at the foot of the page.
func (s *setter) turnAtOnce(p *display.Page) {
	s.block(p, display.Paragraph, s.text("V.S.", s.width(), s.height()+headSize, display.End, fonts.BoldItalic, headSize))
}
