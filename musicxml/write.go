package musicxml

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"github.com/beevik/etree"
)

// WriteOptions say how a document is laid out as text.
type WriteOptions struct {
	Indent int // spaces a level; 0 puts no white space between elements. Default: 0
	// Levels is how many levels of elements begin a line, the root's being the
	// first; what lies deeper follows on its parent's line. Default: 0, all.
	Levels int
}

// NoteALine is the layout of the program's files: what is in a measure has a line
// each. Such a file is read and compared as easily as one with a line for every
// element, and is a third smaller.
var NoteALine = WriteOptions{Indent: 2, Levels: 4}

// Write writes the document as UTF-8 in one call of w.Write.
//
// Without indentation the bytes are those that etree itself writes, except that
// a carriage return, and in an attribute's value a tab or line feed, is written
// as a reference: a reader would take the plain sign for something else (XML
// 1.0, 2.11 and 3.3.3). With indentation an element that holds text, or is under
// xml:space="preserve", is written as it is.
func Write(w io.Writer, doc *etree.Document, o WriteOptions) error {
	if _, err := w.Write(Append(nil, doc, o)); err != nil {
		return fmt.Errorf("write score: %w", err)
	}
	return nil
}

// Append adds the written document to b, so that a worker can use one buffer
// for file after file.
func Append(b []byte, doc *etree.Document, o WriteOptions) []byte {
	return AppendReady(b, doc, o, nil)
}

// AppendPart adds a <part> as it stands in a written score, for AppendReady: so
// a score of many parts is written with one part's tree alive at a time.
func AppendPart(b []byte, part *etree.Element, o WriteOptions) []byte {
	w := newWriter(b, o)
	w.element(part, 1, false)
	return w.buf
}

// AppendReady is Append for a document in which some elements only hold the
// place of text that was written before.
func AppendReady(b []byte, doc *etree.Document, o WriteOptions, ready map[*etree.Element][]byte) []byte {
	w := newWriter(b, o)
	w.ready = ready
	for i, t := range doc.Child {
		if text, ok := t.(*etree.CharData); ok && o.Indent > 0 && text.IsWhitespace() {
			continue
		}
		if i > 0 && o.Indent > 0 {
			w.buf = append(w.buf, '\n')
		}
		w.token(t, 0, false)
	}
	if o.Indent > 0 {
		w.buf = append(w.buf, '\n')
	}
	return w.buf
}

// appendTokens adds tokens as they are written.
func appendTokens(b []byte, tokens []etree.Token) []byte {
	w := writer{buf: b}
	for _, t := range tokens {
		w.token(t, 0, true)
	}
	return w.buf
}

// appendStartTag adds an element's start tag.
func appendStartTag(b []byte, e *etree.Element) []byte {
	w := writer{buf: b}
	w.startTag(e)
	return append(w.buf, '>')
}

// writer gathers the text of a document.
type writer struct {
	buf    []byte
	indent int
	levels int // that begin a line
	// ready is the text of elements that have been written before.
	ready map[*etree.Element][]byte
}

func newWriter(b []byte, o WriteOptions) writer {
	o.Levels = cmp.Or(o.Levels, math.MaxInt)
	return writer{buf: b, indent: o.Indent, levels: o.Levels}
}

func (w *writer) token(t etree.Token, level int, literal bool) {
	switch t := t.(type) {
	case *etree.Element:
		w.element(t, level, literal)
	case *etree.CharData:
		w.charData(t)
	case *etree.Comment:
		w.comment(t.Data)
	case *etree.ProcInst:
		w.instruction(t)
	case *etree.Directive:
		w.buf = appendRest(w.buf, t)
	}
}

func (w *writer) element(e *etree.Element, level int, literal bool) {
	if w.ready != nil {
		if text, ok := w.ready[e]; ok {
			w.buf = append(w.buf, text...)
			return
		}
	}
	w.startTag(e)
	if len(e.Child) == 0 {
		w.buf = append(w.buf, '/', '>')
		return
	}
	w.buf = append(w.buf, '>')
	if text, ok := e.Child[0].(*etree.CharData); ok && len(e.Child) == 1 { // as most elements are
		w.charData(text)
	} else if literal || w.indent == 0 || level+1 >= w.levels || !isBlock(e) {
		for _, t := range e.Child {
			w.token(t, level+1, true)
		}
	} else {
		w.block(e, level+1)
	}
	w.buf = append(appendName(append(w.buf, '<', '/'), e.Space, e.Tag), '>')
}

// isBlock reports whether an element's children go on lines of their own: where
// some are elements and none is text. Beside elements alone white space is known
// to mean nothing, so that the same tree is read again.
func isBlock(e *etree.Element) bool {
	lines := false
	for _, t := range e.Child {
		switch t := t.(type) {
		case *etree.Element:
			lines = true
		case *etree.CharData:
			if !t.IsWhitespace() || t.IsCData() {
				return false
			}
		}
	}
	return lines && e.SelectAttrValue("xml:space", "") != "preserve"
}

// block writes the children of an element on lines of their own.
func (w *writer) block(e *etree.Element, level int) {
	for _, t := range e.Child {
		if _, ok := t.(*etree.CharData); !ok {
			w.newLine(level)
			w.token(t, level, false)
		}
	}
	w.newLine(level - 1)
}

func (w *writer) newLine(level int) {
	w.buf = append(w.buf, '\n')
	for n := level * w.indent; n > 0; n -= len(spaces) {
		w.buf = append(w.buf, spaces[:min(n, len(spaces))]...)
	}
}

const spaces = "                                "

// startTag writes an element's start tag up to its closing bracket.
func (w *writer) startTag(e *etree.Element) {
	b := appendName(append(w.buf, '<'), e.Space, e.Tag)
	for i := range e.Attr {
		a := &e.Attr[i]
		b = appendName(append(b, ' '), a.Space, a.Key)
		b = appendEscaped(append(b, '=', '"'), a.Value, valueEscape)
		b = append(b, '"')
	}
	w.buf = b
}

func appendName(b []byte, space, local string) []byte {
	if space != "" {
		b = append(append(b, space...), ':')
	}
	return append(b, local...)
}

func (w *writer) charData(t *etree.CharData) {
	if !t.IsCData() {
		w.buf = appendEscaped(w.buf, t.Data, textEscape)
		return
	}
	w.buf = append(w.buf, "<![CDATA["...)
	// "]]>" cannot stand in a CDATA section: it is split over two.
	w.buf = append(w.buf, strings.ReplaceAll(t.Data, "]]>", "]]]]><![CDATA[>")...)
	w.buf = append(w.buf, "]]>"...)
}

// comment writes a comment. Two hyphens cannot stand in one, nor a hyphen at its
// end: a space parts them, as in etree.
func (w *writer) comment(data string) {
	w.buf = append(w.buf, "<!--"...)
	hyphen := false
	for i := range len(data) {
		if data[i] == '-' && hyphen {
			w.buf = append(w.buf, ' ')
		}
		hyphen = data[i] == '-'
		w.buf = append(w.buf, data[i])
	}
	if hyphen {
		w.buf = append(w.buf, ' ')
	}
	w.buf = append(w.buf, "-->"...)
}

// instruction writes a processing instruction.
func (w *writer) instruction(t *etree.ProcInst) {
	w.buf = append(w.buf, "<?"...)
	w.buf = append(w.buf, strings.ReplaceAll(t.Target, "?>", "? >")...)
	if t.Inst != "" {
		w.buf = append(w.buf, ' ')
		w.buf = append(w.buf, strings.ReplaceAll(t.Inst, "?>", "? >")...)
	}
	w.buf = append(w.buf, "?>"...)
}

// appendRest leaves the writing of a rare token to etree.
func appendRest(b []byte, t etree.Token) []byte {
	text := &strings.Builder{}
	t.WriteTo(text, &etree.WriteSettings{})
	return append(b, text.String()...)
}

// Escapes of a byte, by where it stands. Bytes beyond ASCII have one so that
// what is no character at all is found.
var (
	textEscape  = newEscapes("\r", "&#xD;")
	valueEscape = newEscapes("\t", "&#x9;", "\n", "&#xA;", "\r", "&#xD;")
)

// escapes holds what each byte is written as, "" for the byte itself, and which
// bytes are written as they are.
type escapes struct {
	written [256]string
	plain   [256]bool
}

// notSure marks a byte that needs a look at the whole character.
const notSure = "?"

func newEscapes(pairs ...string) *escapes {
	var e escapes
	w := &e.written
	for c := range w {
		if c < ' ' || c >= utf8.RuneSelf {
			w[c] = notSure
		}
	}
	w['\t'], w['\n'] = "", ""
	w['&'], w['<'], w['>'], w['\''], w['"'] = "&amp;", "&lt;", "&gt;", "&apos;", "&quot;"
	for i := 0; i < len(pairs); i += 2 {
		w[pairs[i][0]] = pairs[i+1]
	}
	for c := range w {
		e.plain[c] = w[c] == ""
	}
	return &e
}

// appendEscaped adds text, with references for the signs that mean something
// else. A character that XML does not have becomes U+FFFD, as in etree.
func appendEscaped(b []byte, text string, table *escapes) []byte {
	last, i := 0, 0
	for i < len(text) && table.plain[text[i]] {
		i++
	}
	for i < len(text) {
		escaped, width := table.written[text[i]], 1
		if escaped == "" {
			i++
			continue
		}
		if escaped == notSure {
			escaped, width = checkChar(text[i:])
		}
		if escaped != "" {
			b = append(append(b, text[last:i]...), escaped...)
			last = i + width
		}
		i += width
	}
	return append(b, text[last:]...)
}

// checkChar returns what the first character of a text is written as, "" for
// the character itself, and its length.
func checkChar(text string) (string, int) {
	r, width := utf8.DecodeRuneInString(text)
	if r == utf8.RuneError && width == 1 || !isChar(r) {
		return "\uFFFD", width
	}
	return "", width
}
