package musicxml

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml/notice"
)

// scanner is a strict reader of XML text that builds etree trees. The text is
// UTF-8 (decode sees to that) and the strings of the tree are pieces of it.
//
// White space beside elements is left out; it stays in mixed content and under
// xml:space="preserve". All else is read as etree reads it with PreserveCData,
// except that a line end or tab in an attribute's value becomes a space, as XML
// has it (1.0, 3.3.3).
type scanner struct {
	text      string
	pos       int
	limits    Limits
	entities  *entities
	expanded  int // bytes that entities have come to
	slabs     *Slabs
	work      stacks
	prefixed  bool              // one of the attributes that were just read has a prefix
	anyPrefix bool              // some name so far has a prefix
	skipping  int               // open elements that are left out of the tree
	indent    string            // the white space between the last two tags
	line      func(pos int) int // the line of the file on which a place in text is

	skim Skim  // what becomes part of the tree
	tape *tape // where set, everything is noted down in it
	// cut, where set, is asked at every start tag; true says that it has moved
	// past the whole element itself.
	cut func() (bool, error)
}

// stacks are the scanner's working memory, kept with the slabs for the next run.
type stacks struct {
	open   []frame
	kids   []etree.Token // children that wait for their parents' end; nil for white space
	blanks []blank       // the white space of the nils
	attrs  []etree.Attr
	built  []standing // a tape's
}

// blank is white space that stays or goes when its element ends.
type blank struct {
	text string
	raw  bool // line ends are as they stand in the text
}

// data returns the white space with plain line ends.
func (b blank) data() string {
	if b.raw {
		return plainLines(b.text)
	}
	return b.text
}

// frame is an open element.
type frame struct {
	element *etree.Element // nil where left out of the tree
	name    string         // as it stands in the text, with prefix
	pos     int            // of the start tag
	kids    int            // children before this element's own
	at      int            // in the tape
	count   int            // children in the tape
	blanks  int
	parent  bool // has child elements
	mixed   bool // has text beside white space
	literal bool // xml:space="preserve"
}

func newScanner(text string, limits Limits, known *entities, slabs *Slabs) *scanner {
	if slabs == nil {
		slabs = new(Slabs)
	}
	s := &scanner{text: text, limits: limits, entities: known, slabs: slabs, work: slabs.work}
	s.line = func(pos int) int { return lineOf(text, pos) }
	s.work.open, s.work.kids, s.work.blanks = s.work.open[:0], s.work.kids[:0], s.work.blanks[:0]
	return s
}

// records reports whether what takes so many words is to be noted in the tape. One
// that has no room for them is given up.
func (s *scanner) records(words int) bool {
	if s.tape == nil {
		return false
	}
	if len(s.tape.words)+words > cap(s.tape.words) {
		s.tape = nil
		return false
	}
	return true
}

// close gives the working memory back to the slabs.
func (s *scanner) close() { s.slabs.work = s.work }

// document reads a whole document.
func (s *scanner) document() (*etree.Document, error) {
	defer s.close()
	doc := etree.NewDocument()
	s.pushHome(&doc.Element)
	if err := s.prolog(); err != nil {
		return nil, err
	}
	return doc, s.rest()
}

// rest reads a document from its root on.
func (s *scanner) rest() error {
	if err := s.content(); err != nil {
		return err
	}
	if err := s.epilog(); err != nil {
		return err
	}
	s.adopt(s.top(), false)
	return nil
}

// element reads a text that is one element and nothing else.
func (s *scanner) element() (*etree.Element, error) {
	defer s.close()
	home := etree.Element{}
	s.pushHome(&home)
	if err := s.content(); err != nil {
		return nil, err
	}
	if s.pos != len(s.text) {
		return nil, s.fault(s.pos, notice.MismatchedTags, mend, "%s stands after the end of the element", snippet(s.text[s.pos:]))
	}
	s.adopt(s.top(), false)
	root := home.Child[0]
	home.RemoveChildAt(0)
	return root.(*etree.Element), nil
}

// content reads on to the end of the element that begins at pos.
func (s *scanner) content() error {
	for {
		var err error
		switch s.peek(1) {
		case '/':
			err = s.endTag()
		case '!':
			err = s.markup()
		case '?':
			err = s.instruction()
		default:
			err = s.startTag()
		}
		if err != nil || len(s.work.open) == 1 {
			return err
		}
		if err := s.characters(); err != nil {
			return err
		}
		if s.pos == len(s.text) {
			return s.truncated()
		}
	}
}

// peek returns the byte at pos+ahead, 0 past the end.
func (s *scanner) peek(ahead int) byte {
	if s.pos+ahead < len(s.text) {
		return s.text[s.pos+ahead]
	}
	return 0
}

func (s *scanner) top() *frame { return &s.work.open[len(s.work.open)-1] }

// push opens an element.
func (s *scanner) push(f frame) {
	f.kids, f.blanks = len(s.work.kids), len(s.work.blanks)
	s.work.open = append(s.work.open, f)
}

// pushHome opens what the root's tree is put into.
func (s *scanner) pushHome(home *etree.Element) { s.push(frame{element: home}) }

// add puts a token among the children of the element that is open.
func (s *scanner) add(t etree.Token) {
	s.work.kids = append(s.work.kids, t)
}

// pop ends the element that is open.
func (s *scanner) pop() {
	f := s.top()
	keepBlanks := f.literal || f.mixed || !f.parent
	if s.tape != nil {
		s.tape.lost = s.tape.lost || keepBlanks && len(s.work.blanks) > f.blanks
		s.tape.end(f.at, f.count)
	}
	if f.element != nil {
		s.adopt(f, keepBlanks)
	} else {
		s.work.kids, s.work.blanks = s.work.kids[:f.kids], s.work.blanks[:f.blanks]
	}
	s.work.open = s.work.open[:len(s.work.open)-1]
	s.finish(f.element)
}

// finish hands an element to the one that is open; nil is one that is left out.
func (s *scanner) finish(e *etree.Element) {
	top := s.top()
	top.parent = true
	top.count++
	if e == nil {
		s.skipping--
	} else {
		s.add(e)
	}
}

// adopt gives an element its waiting children, in a slice of exact size.
func (s *scanner) adopt(f *frame, keepBlanks bool) {
	kids := s.work.kids[f.kids:]
	blanks := s.work.blanks[f.blanks:]
	size := len(kids)
	if !keepBlanks {
		size -= len(blanks)
	}
	if size > 0 {
		f.element.Child = s.slabs.tokens.take(size)[:0]
	}
	for _, kid := range kids {
		if kid != nil {
			f.element.AddChild(kid)
			continue
		}
		if keepBlanks {
			f.element.AddChild(s.slabs.text(blanks[0].data()))
		}
		blanks = blanks[1:]
	}
	s.work.kids, s.work.blanks = s.work.kids[:f.kids], s.work.blanks[:f.blanks]
}

// plainLines makes every line end a line feed (XML 1.0, 2.11).
func plainLines(text string) string {
	if strings.IndexByte(text, '\r') < 0 {
		return text
	}
	return strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
}
