package printing

import (
	"bytes"
	"fmt"
	"maps"
	"slices"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/audit"
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/notate"
	"deskpart/musicxml/engraving/paper"
	"deskpart/musicxml/engraving/pdf"
	"deskpart/musicxml/engraving/svg"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
	"deskpart/transpose/pitch"
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
	// SVG draws pages as SVG in place of PDF.
	SVG bool
}

// Player is who plays from a part.
type Player struct {
	Label      string                  // as the part is headed; default the document's own
	Instrument *instruments.Instrument // nil: not known
}

// Printed is one player's part on paper.
type Printed struct {
	Row
	Title  string // of the document: the work and the player
	Sheets []*pdf.Sheet
	// Drawings are the pages as SVG, where that was asked for.
	Drawings []string

	language string
}

// Movement is what a player has of a movement of a work.
type Movement struct {
	Root *etree.Element // the document; nil where the player has none, and is silent
	// Heading stands over the movement; default what the document says.
	Heading string
	// Tacet: the player is silent all through, and the book has a line that says so.
	Tacet bool
	// Said are the warnings of the document, which stand before those of its pages.
	Said []musicxml.Warning
}

// Print lays out a document, of which something was said. The error names measure and beat
// where it cannot be drawn.
func (o Options) Print(player Player, root *etree.Element, said ...musicxml.Warning) (*Printed, error) {
	return o.PrintWork(player, "", Movement{Root: root, Said: said})
}

// AsItIs reports whether a score is a part file, which is printed as it is: it has one
// part, and nothing is asked of who plays it.
func AsItIs(score *musicxml.Score, o parts.Options) bool {
	asked := o.Players || o.Percussionists > 0 || len(o.Plan) > 0 || len(o.Editions) > 0 || o.Substitutes != nil || o.Choir != parts.ChoirAsAny
	return len(score.Parts) == 1 && o.Input == parts.Auto && !asked
}

// Document is the document of a part, as a job makes it or, asIs, as the score has it, and
// what is to be said of it; nil where the part is silent and not wanted.
func Document(job *parts.Job, i int, asIs bool, space *parts.Workspace) (*etree.Element, []musicxml.Warning, error) {
	if asIs {
		score := job.Surveyed().Score()
		part, err := space.ReadPart(score, job.Assignment(i).Part)
		if err != nil {
			return nil, nil, err
		}
		leaf := Leaf(score, part)
		return leaf.Root, leaf.Said, nil
	}
	sheet, err := job.MakeIn(space, i)
	if err != nil {
		return nil, nil, err
	}
	if sheet.Document == nil {
		return nil, sheet.Report.Warnings, nil
	}
	return sheet.Document.Root(), sheet.Report.Warnings, nil
}

// Leaf is a part file as it is, looked over: its names and clefs are those that somebody
// chose.
func Leaf(score *musicxml.Score, part *etree.Element) Movement {
	root := score.Assemble([]*etree.Element{part}).Root()
	return Movement{Root: root, Said: audit.Examine(audit.Part{Root: root})}
}

// PrintWork lays out what a player has of all movements of a work, in order, as one
// book. The title is the work's; "" for what the first document says.
func (o Options) PrintWork(player Player, title string, movements ...Movement) (*Printed, error) {
	books := make([]*paper.Book, len(movements))
	for i, m := range movements {
		var err error
		if books[i], err = o.read(m); err != nil {
			return nil, err
		}
	}
	book := paper.Join(books...)
	if title != "" {
		book.Title = title
	}
	if player.Label != "" {
		book.Instrument = player.Label
	}
	settled := o.settle(player, book)
	laid, err := paper.Lay(book, settled)
	if err != nil {
		return nil, err
	}
	printed := &Printed{Row: newRow(book, laid, settled), Title: documentTitle(book), language: o.Language}
	var said []musicxml.Warning
	for i, m := range movements {
		said = append(said, m.Said...)
		if m.Root != nil && !m.Tacet {
			printed.Warnings = append(printed.Warnings, misread(m.Root, movementOf(book, i))...)
		}
	}
	printed.Warnings = slices.Insert(printed.Warnings, 0, said...)
	return printed, printed.write(laid, o.SVG)
}

// read makes the book of one movement.
func (o Options) read(m Movement) (*paper.Book, error) {
	if m.Root == nil {
		return &paper.Book{Movements: []paper.Movement{{Title: m.Heading}}}, nil
	}
	book, err := paper.Read(m.Root, o.RestBars)
	if err != nil {
		return nil, err
	}
	if m.Heading != "" {
		book.Movements[0].Title = m.Heading
	}
	if m.Tacet {
		book.Movements[0].Music = nil
	}
	return book, nil
}

// write writes the pages, so that the list of what is drawn need not be kept.
func (p *Printed) write(laid *paper.Laid, asSVG bool) error {
	missing := map[rune]bool{}
	for i := range laid.Pages {
		if asSVG {
			p.Drawings = append(p.Drawings, svg.Page(&laid.Pages[i]))
			continue
		}
		sheet, err := pdf.Compile(&laid.Pages[i])
		if err != nil {
			return err
		}
		for _, r := range sheet.Missing() {
			missing[r] = true
		}
		p.Sheets = append(p.Sheets, sheet)
	}
	for _, r := range slices.Sorted(maps.Keys(missing)) {
		if slices.ContainsFunc(p.NotDrawn, func(n NotDrawn) bool { return n.Element == notate.Character(r) }) {
			continue // with its bars
		}
		p.NotDrawn = append(p.NotDrawn, NotDrawn{Element: notate.Character(r), Count: 1})
		p.Warnings = append(p.Warnings, musicxml.Warning{Code: notice.NotDrawn, Text: fmt.Sprintf("the letter %q (U+%04X) is in no font of the page and was left out", r, r)})
	}
	return nil
}

// settle fills in what player, language and document make usual.
func (o Options) settle(player Player, book *paper.Book) paper.Options {
	settled := paper.Options{Paper: o.Paper, Staff: o.Staff, Margin: o.Margin, Large: o.Large, OneSided: o.OneSided,
		FreeHands: player.Instrument != nil && player.Instrument.IsVoice()}
	if l, err := pitch.ParseLanguage(o.Language); err == nil {
		settled.Language = l
	}
	if settled.Paper == (paper.Size{}) {
		settled.Paper = paper.UsualSize(o.Language, book.Sheet)
	}
	if settled.Staff == 0 && !o.Large {
		settled.Staff = paper.UsualStaff(player.Instrument, book)
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
	for _, sheet := range p.Sheets {
		w.Sheet(sheet)
	}
	err := w.Close()
	return out.Bytes(), err
}
