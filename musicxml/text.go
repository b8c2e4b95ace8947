package musicxml

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/beevik/etree"

	"deskpart/musicxml/notice"
)

// characters reads the character data at pos, if there is any, up to the next
// "<" or the end of the text.
func (s *scanner) characters() error {
	text, i := s.text, s.pos+len(s.indent)
	if i < len(text) && text[i] == '<' && text[s.pos:i] == s.indent {
		s.blank(blank{s.indent, true}) // the same as before the last tag
		s.pos = i
		return nil
	}
	i = s.pos
	for i < len(text) && byteClasses[text[i]]&blankByte != 0 {
		i++
	}
	if i == len(text) || text[i] == '<' {
		s.indent = text[s.pos:i]
		s.blank(blank{s.indent, true})
		s.pos = i
		return nil
	}
	for i = s.pos; i < len(text); i++ {
		if c := text[i]; byteClasses[c]&textStop != 0 {
			if c == '<' {
				break
			}
			return s.richText()
		}
	}
	if i-s.pos > s.limits.TextBytes {
		return s.tooLong(s.pos)
	}
	if s.records(headWords) {
		s.tape.text(s.pos, i-s.pos)
	}
	s.plain(text[s.pos:i])
	s.pos = i
	return nil
}

// loseTape is for what a tape does not say.
func (s *scanner) loseTape() {
	if s.tape != nil {
		s.tape.lost = true
	}
}

// blank notes white space, which may or may not stay.
func (s *scanner) blank(b blank) {
	if b.text != "" && (s.skipping == 0 || s.tape != nil) {
		s.work.kids = append(s.work.kids, nil)
		s.work.blanks = append(s.work.blanks, b)
	}
}

// plain adds a text as it is.
func (s *scanner) plain(text string) {
	s.top().mixed = true
	s.top().count++
	if s.skipping == 0 {
		s.add(s.slabs.text(text))
	}
}

// richText reads character data that is not simply a piece of the text.
func (s *scanner) richText() error {
	end := strings.IndexByte(s.text[s.pos:], '<')
	if end < 0 {
		return s.truncated()
	}
	if end > s.limits.TextBytes {
		return s.tooLong(s.pos)
	}
	end += s.pos
	if i := strings.Index(s.text[s.pos:end], "]]>"); i >= 0 {
		return s.fault(s.pos+i, notice.NotXML, mend, "]]> stands in a text (it is written ]]&gt;)")
	}
	text, err := s.resolve(s.pos, end, false)
	if err != nil {
		return err
	}
	s.pos = end
	if allBlank(text) {
		s.blank(blank{text, false})
	} else {
		if s.records(headWords) {
			s.tape.richText(text)
		}
		s.plain(text)
	}
	return nil
}

// richValue reads the rest of an attribute's value, pos being at its start, that
// is not simply a piece of the text.
func (s *scanner) richValue(quote byte, f *frame) (string, error) {
	length := strings.IndexByte(s.text[s.pos:], quote)
	if length < 0 {
		return "", s.truncated()
	}
	if length > s.limits.TextBytes {
		return "", s.tooLong(s.pos)
	}
	end := s.pos + length
	if i := strings.IndexByte(s.text[s.pos:end], '<'); i >= 0 {
		return "", s.fault(s.pos+i, notice.NotXML, mend, "< stands inside an attribute of <%s> (it is written &lt;)", f.name)
	}
	value, err := s.resolve(s.pos, end, true)
	s.pos = end + 1
	return value, err
}

// resolve returns the piece of text with its references replaced and its line
// ends made plain, or in a value made spaces.
func (s *scanner) resolve(start, end int, value bool) (string, error) {
	piece := s.text[start:end]
	if i := badChar(piece); i >= 0 {
		r, _ := utf8.DecodeRuneInString(piece[i:])
		return "", s.fault(start+i, notice.NotXML, mend, "the character %U may not stand in XML", r)
	}
	piece = plainLines(piece)
	if value {
		piece = strings.Map(spaceForBlank, piece)
	}
	if strings.IndexByte(piece, '&') < 0 {
		return piece, nil
	}
	return s.expand(piece, start)
}

// spaceForBlank is the normalising of an attribute's value (XML 1.0, 3.3.3).
func spaceForBlank(r rune) rune {
	if r == '\n' || r == '\t' {
		return ' '
	}
	return r
}

// badChar returns the place of the first character that is none of XML's, or -1.
func badChar(text string) int {
	for i, r := range text {
		if !isChar(r) {
			return i
		}
	}
	return -1
}

// expand replaces the references in a piece of text that began at pos.
func (s *scanner) expand(piece string, pos int) (string, error) {
	var b strings.Builder
	for seen := 0; ; seen++ {
		before, after, found := strings.Cut(piece, "&")
		b.WriteString(before)
		if !found {
			return b.String(), nil
		}
		name, rest, found := strings.Cut(after, ";")
		if !found {
			return "", s.fault(s.ampersand(pos, seen), notice.UndefinedEntity, entityHint, "& stands alone in %s", snippet("&"+after))
		}
		text, why := s.reference(name)
		if why != nil {
			return "", s.fault(s.ampersand(pos, seen), why.Code, why.Hint, "%w", why.Err)
		}
		b.WriteString(text)
		piece = rest
	}
}

// ampersand returns the place of the n-th & from pos on, counted from 0.
func (s *scanner) ampersand(pos, n int) int {
	for {
		pos += max(strings.IndexByte(s.text[pos:], '&'), 0)
		if n == 0 {
			return pos
		}
		pos++
		n--
	}
}

// reference returns what &name; stands for.
func (s *scanner) reference(name string) (string, *Error) {
	if strings.HasPrefix(name, "#") {
		r, ok := charReference(name)
		if !ok {
			return "", &Error{Code: notice.NotXML, Hint: mend, Err: fmt.Errorf("&%s; is no character", snippet(name))}
		}
		return string(r), nil
	}
	if !isName(name) {
		return "", &Error{Code: notice.UndefinedEntity, Hint: entityHint, Err: fmt.Errorf("& stands alone in %s", snippet("&"+name))}
	}
	text, why := s.entities.lookup(name)
	if s.expanded += len(text); s.expanded > s.limits.EntityBytes {
		return "", &Error{Code: notice.TooLarge, Hint: raiseLimit, Err: fmt.Errorf("the entities expand to more than %d bytes", s.limits.EntityBytes)}
	}
	return text, why
}

// markup reads what begins with "<!" inside the root: a comment or a CDATA section.
func (s *scanner) markup() error {
	switch rest := s.text[s.pos:]; {
	case strings.HasPrefix(rest, "<!--"):
		return s.comment()
	case strings.HasPrefix(rest, "<![CDATA["):
		return s.cdata()
	}
	return s.fault(s.pos, notice.NotXML, mend, "%s may not stand here", snippet(s.text[s.pos:]))
}

func (s *scanner) cdata() error {
	const open, shut = "<![CDATA[", "]]>"
	data, err := s.upTo(s.pos+len(open), shut, "a CDATA section")
	if err != nil {
		return err
	}
	s.loseTape()
	if s.skipping == 0 {
		s.add(etree.NewCData(plainLines(data)))
		s.top().mixed = true
	}
	return nil
}

// upTo reads the text from start to what ends it, and passes over that; holder is what the
// text stands in.
func (s *scanner) upTo(start int, shut, holder string) (string, error) {
	data, _, found := strings.Cut(s.text[start:], shut)
	switch {
	case !found:
		return "", s.truncated()
	case len(data) > s.limits.TextBytes:
		return "", s.tooLong(start)
	}
	if i := badChar(data); i >= 0 {
		return "", s.fault(start+i, notice.NotXML, mend, "a character stands in %s that may not stand in XML", holder)
	}
	s.pos = start + len(data) + len(shut)
	return data, nil
}

func (s *scanner) comment() error {
	data, err := s.upTo(s.pos+len("<!--"), "--", "a comment")
	if err != nil {
		return err
	}
	if s.peek(0) != '>' {
		return s.fault(s.pos, notice.NotXML, mend, "-- stands inside a comment")
	}
	s.pos++
	s.loseTape()
	if s.skipping == 0 {
		s.add(etree.NewComment(data))
	}
	return nil
}

// instruction reads a processing instruction.
func (s *scanner) instruction() error {
	start := s.pos
	target, data, err := s.instructionText()
	if err != nil {
		return err
	}
	if strings.EqualFold(target, "xml") {
		return s.fault(start, notice.NotXML, "take away what stands before it", "the XML declaration stands elsewhere than at the very start")
	}
	s.loseTape()
	if s.skipping == 0 {
		s.add(etree.NewProcInst(target, data))
	}
	return nil
}

// instructionText reads a processing instruction or the XML declaration.
func (s *scanner) instructionText() (target, data string, err error) {
	s.pos += len("<?")
	target, _, err = s.name()
	if err != nil {
		return "", "", err
	}
	const shut = "?>"
	if !s.skipBlanks() && strings.Index(s.text[s.pos:], shut) > 0 {
		return "", "", s.fault(s.pos, notice.NotXML, mend, "%s stands where a processing instruction's name should end", snippet(s.text[s.pos:]))
	}
	data, err = s.upTo(s.pos, shut, "a processing instruction")
	return target, data, err
}
