package printing

import (
	"bytes"
	"fmt"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/paper"
	"deskpart/musicxml/engraving/pdf"
	"deskpart/musicxml/notice"
)

// Options say how parts are printed. The zero value is usable.
type Options struct {
	// Paper is the sheet; default the usual one of the language.
	Paper paper.Size
	// Staff is the height of a staff; default the usual one of the instrument.
	Staff display.Millimetres
	// Margin, Large and OneSided are those of paper.Options.
	Margin          display.Millimetres
	Large, OneSided bool
	// Language of the player as in BCP 47; default English.
	Language string
	// RestBars gathers that many or more empty bars in a row into one multi-bar
	// rest, where a part is printed as it is; 0 (default) as the part has them.
	RestBars int
}

// Player is who plays from a part.
type Player struct {
	Label      string                  // as the part is headed; default the document's own
	Instrument *instruments.Instrument // nil: not known
}

// Printed is one player's part on paper.
type Printed struct {
	Row
	Title string // of the document: the work and the player
	Pages []display.Page

	language string
}

// Print lays out the documents of a player's movements, in order. The error names
// measure and beat where a document cannot be drawn.
func (o Options) Print(player Player, movements ...*etree.Element) (*Printed, error) {
	books := make([]*paper.Book, len(movements))
	for i, root := range movements {
		book, err := paper.Read(root, o.RestBars)
		if err != nil {
			return nil, err
		}
		books[i] = book
	}
	book := paper.Join(books...)
	if player.Label != "" {
		book.Instrument = player.Label
	}
	settled := o.settle(player, book)
	laid, err := paper.Lay(book, settled)
	if err != nil {
		return nil, err
	}
	printed := &Printed{Row: newRow(book, laid, settled), Pages: laid.Pages, Title: documentTitle(book), language: o.Language}
	return printed, nil
}

// settle fills in what player, language and document make usual.
func (o Options) settle(player Player, book *paper.Book) paper.Options {
	settled := paper.Options{Paper: o.Paper, Staff: o.Staff, Margin: o.Margin, Large: o.Large, OneSided: o.OneSided}
	if settled.Paper == (paper.Size{}) {
		settled.Paper = paper.UsualSize(o.Language, book.Sheet)
	}
	if settled.Staff == 0 && !o.Large {
		settled.Staff = paper.UsualStaff(player.Instrument)
	}
	return settled.Settled()
}

// documentTitle names the document: the work, then the player.
func documentTitle(b *paper.Book) string {
	title, instrument := oneLine(b.Title), oneLine(b.Instrument)
	if title == "" || instrument == "" {
		return title + instrument
	}
	return title + ": " + instrument
}

// PDF is the part as a file.
func (p *Printed) PDF() ([]byte, error) {
	var out bytes.Buffer
	w := pdf.New(&out, pdf.Info{Title: p.Title, Language: p.language})
	for i := range p.Pages {
		w.Page(&p.Pages[i])
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	p.missing(w.Missing())
	return out.Bytes(), nil
}

// missing says which letters no font has.
func (p *Printed) missing(letters []rune) {
	for _, r := range letters {
		p.NotDrawn = append(p.NotDrawn, NotDrawn{Element: "letter " + strconv.QuoteRune(r), Count: 1})
		p.Warnings = append(p.Warnings, musicxml.Warning{Code: notice.NotDrawn, Text: fmt.Sprintf("the letter %q (U+%04X) is in no font of the page and was left out", r, r)})
	}
}
