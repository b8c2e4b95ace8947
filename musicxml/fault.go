package musicxml

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"deskpart/musicxml/notice"
)

// mend is the hint for a text that is not XML as it stands.
const mend = "export the file again, or correct it there"

// raiseLimit is the hint for a text that is larger than is allowed.
const raiseLimit = "raise the limit if the file is sound"

// fault is an error at a place in a text. The one who knows which line that
// place is makes an Error of it.
type fault struct {
	pos  int
	code notice.Code
	hint string
	err  error
}

func (f *fault) Error() string { return f.err.Error() }

func (s *scanner) fault(pos int, code notice.Code, hint, format string, args ...any) error {
	return &fault{pos: pos, code: code, hint: hint, err: fmt.Errorf(format, args...)}
}

// tooLong says that a text goes on for longer than any does that a reader sees.
func (s *scanner) tooLong(pos int) error {
	return s.fault(pos, notice.TextTooLong, raiseLimit, "a text has more than %d bytes; it begins with %s", s.limits.TextBytes, snippet(s.text[pos:]))
}

// truncated says that the text ends too early.
func (s *scanner) truncated() error {
	const hint = "the file seems cut off; fetch or export it again"
	if f := s.top(); f.name != "" {
		return s.fault(len(s.text), notice.Truncated, hint, "the text ends inside <%s>, which begins on line %d", f.name, s.line(f.pos))
	}
	return s.fault(len(s.text), notice.Truncated, hint, "the text ends before the music begins")
}

// tagFault says that the start tag being read is malformed, or cut off.
func (s *scanner) tagFault(f *frame) error {
	if s.pos >= len(s.text) {
		return s.fault(f.pos, notice.Truncated, "the file seems cut off; fetch or export it again", "the text ends inside the tag <%s", f.name)
	}
	return s.fault(s.pos, notice.NotXML, mend, "the tag <%s has %s where an attribute should be", f.name, snippet(s.text[s.pos:]))
}

// nameFault says that there is no name where there should be one.
func (s *scanner) nameFault(pos int, name string) error {
	switch {
	case pos >= len(s.text):
		return s.truncated()
	case name == "":
		return s.fault(pos, notice.NotXML, mend, "%s stands where a name should be (a plain < is written &lt;)", snippet(s.text[pos:]))
	}
	return s.fault(pos, notice.NotXML, mend, "%s is not a name", quote(name))
}

// endFault says that the end tag at start is not the one of the element that is
// open.
func (s *scanner) endFault(start int) error {
	f := s.top()
	length := strings.IndexByte(s.text[start:], '>')
	if length < 0 {
		return s.truncated()
	}
	found := snippet(s.text[start : start+length+1])
	if f.name == "" {
		return s.fault(start, notice.MismatchedTags, mend, "%s ends what has not begun", found)
	}
	return s.fault(start, notice.MismatchedTags, mend, "%s stands where </%s> should be (<%s> begins on line %d)", found, f.name, f.name, s.line(f.pos))
}

// snippet returns the beginning of a text for showing in a message: one line,
// with a sign in place of what cannot be printed.
func snippet(text string) string {
	const long = 24
	if i := strings.IndexAny(text, "\r\n"); i >= 0 {
		text = text[:i]
	}
	text = text[:min(len(text), 4*long)]
	runes := []rune(strings.Map(printable, text))
	switch {
	case len(runes) > long:
		return string(runes[:long]) + "…"
	case len(runes) == 0:
		return "a line end"
	}
	return string(runes)
}

func printable(r rune) rune {
	if unicode.IsPrint(r) {
		return r
	}
	return utf8.RuneError
}

// quote puts a text between quotation marks and keeps it on one line.
func quote(text string) string { return fmt.Sprintf("%q", text) }

// lineOf returns the number of the line that pos lies on. A line ends as XML
// has it: with a line feed, a carriage return, or both.
func lineOf(text string, pos int) int {
	before := text[:min(pos, len(text))]
	feeds := strings.Count(before, "\n")
	returns := strings.Count(before, "\r")
	return 1 + feeds + returns - strings.Count(before, "\r\n")
}

// locate makes an Error of a fault, with its line.
func (s *scanner) locate(err error, file string) error {
	var f *fault
	if !errors.As(err, &f) {
		return Locate(err, Error{File: file})
	}
	return &Error{File: file, Line: s.line(f.pos), Code: f.code, Hint: f.hint, Err: f.err}
}
