package typeset

import (
	"bytes"
	"fmt"

	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/fonts"
	"deskpart/musicxml/engraving/pdf"
)

// PDF sets the document. The same content gives the same bytes.
func (s *Setter) PDF() ([]byte, error) {
	var out bytes.Buffer
	w := pdf.New(&out, pdf.Info{Title: s.o.Title, Language: s.o.Language})
	pages := s.Pages()
	for i := range pages {
		w.Page(&pages[i])
	}
	if err := w.Close(); err != nil {
		return nil, fmt.Errorf("%s: %w", s.o.Title, err)
	}
	return out.Bytes(), nil
}

// Pages are the document's pages.
func (s *Setter) Pages() []display.Page {
	l := laying{s: s}
	for i := 0; i < len(s.pieces); {
		n := s.chunk(i)
		l.put(s.pieces[i : i+n])
		i += n
	}
	l.end()
	for i := range l.pages {
		l.pages[i].Blocks = append(l.pages[i].Blocks, s.foot(i+1, len(l.pages)))
	}
	return l.pages
}

// chunk is how many pieces from one on stay together: a group where a page has room for
// it, or what is kept with what follows.
func (s *Setter) chunk(i int) int {
	if g := s.pieces[i].group; g > 0 {
		n := 1
		for i+n < len(s.pieces) && s.pieces[i+n].group == g {
			n++
		}
		if heightOf(s.pieces[i:i+n]) <= s.room() {
			return n
		}
	}
	n := 1
	for i+n < len(s.pieces) && s.pieces[i+n-1].keep {
		n++
	}
	return n
}

// room is the height of a page without its foot.
func (s *Setter) room() display.Spaces {
	return display.Spaces(s.o.Paper.Height) - 2*margin - footHeight
}

func heightOf(pieces []piece) (height display.Spaces) {
	for _, p := range pieces {
		height += p.before + p.height
	}
	return height
}

// laying puts pieces on pages.
type laying struct {
	s     *Setter
	used  display.Spaces
	pages []display.Page
	page  *display.Page
}

// put puts pieces that stay together on this page, or on a new one.
func (l *laying) put(pieces []piece) {
	if l.page != nil && (pieces[0].fresh || l.used+heightOf(pieces) > l.s.room()) {
		l.end()
	}
	for _, p := range pieces {
		if l.page != nil && l.used+p.before+p.height > l.s.room() {
			l.end() // more than a page has room for
		}
		l.one(p)
	}
}

func (l *laying) one(p piece) {
	if p.fresh {
		return
	}
	if l.page == nil {
		l.page = &display.Page{Width: l.s.o.Paper.Width, Height: l.s.o.Paper.Height}
		l.used = -p.before
	}
	l.used += p.before
	if p.block.System != nil || len(p.block.Items) > 0 {
		p.block.Left, p.block.Top = display.Millimetres(margin), display.Millimetres(margin+l.used)
		l.page.Blocks = append(l.page.Blocks, p.block)
	}
	l.used += p.height
}

// end ends a page.
func (l *laying) end() {
	if l.page != nil {
		l.pages = append(l.pages, *l.page)
		l.page, l.used = nil, 0
	}
}

// foot has the document's title and the number of the page.
func (s *Setter) foot(number, of int) display.Block {
	size := s.size * footScale
	b := s.list(display.Furniture, letters(s.o.Title, fonts.Regular, 0, size, size, display.Start),
		letters(fmt.Sprintf("%d/%d", number, of), fonts.Regular, s.width, size, size, display.End))
	b.Left, b.Top = display.Millimetres(margin), s.o.Paper.Height-display.Millimetres(margin)
	return b
}
