package musicxml

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml/notice"
)

// startTag reads the start tag at pos and opens its element.
func (s *scanner) startTag() error {
	if s.cut != nil {
		if done, err := s.cut(); done || err != nil {
			return err
		}
	}
	start := s.pos
	s.pos++
	name, classes, err := s.name()
	if err != nil {
		return err
	}
	if len(s.work.open) > s.limits.Depth {
		return s.fault(start, notice.TooDeep, raiseLimit, "more than %d elements stand inside one another", s.limits.Depth)
	}
	f := frame{name: name, pos: start, literal: s.top().literal}
	if s.records(headWords) {
		f.at = s.tape.reserve()
	}
	empty := false
	if s.peek(0) == '>' { // as most tags are
		s.pos++
		s.work.attrs, s.prefixed = s.work.attrs[:0], false
	} else if empty, err = s.attributes(&f); err != nil {
		return err
	}
	if classes&colonByte != 0 || s.prefixed {
		s.anyPrefix = true
	}
	if s.tape != nil {
		s.tape.tag(f.at, start+1, len(name), len(s.work.attrs), classes&colonByte != 0, s.prefixed)
		if empty {
			s.tape.empty(f.at)
		}
	}
	s.build(&f, classes)
	if empty || s.plainLeaf(&f) {
		s.finish(f.element)
	} else {
		s.push(f)
	}
	return nil
}

// plainLeaf reads what most elements are, a plain text and the end tag, so that
// these need not be opened.
func (s *scanner) plainLeaf(f *frame) bool {
	text, start, i := s.text, s.pos, s.pos
	for i < len(text) && byteClasses[text[i]]&(blankByte|textStop) == 0 {
		i++
	}
	end := i + len("</") + len(f.name)
	if i == start || i-start > s.limits.TextBytes || end >= len(text) || text[i] != '<' || text[i+1] != '/' || text[end] != '>' || text[i+2:end] != f.name {
		return false
	}
	if f.element != nil {
		f.element.Child = s.slabs.tokens.take(1)[:0]
		f.element.AddChild(s.slabs.text(text[start:i]))
	}
	if s.tape != nil {
		s.tape.leaf(f.at, start, i-start)
	}
	s.pos = end + 1
	return true
}

// build makes the element of a frame, with the attributes that were just read,
// unless it is left out of the tree. An attribute that is set here lacks its link
// to the element, which etree needs to look up prefixes only; those with a prefix
// get it through CreateAttr.
func (s *scanner) build(f *frame, classes uint8) {
	prefix, tag := "", f.name
	if classes&colonByte != 0 {
		prefix, tag = splitName(tag)
	}
	if !s.wanted(tag) {
		s.skipping++
		return
	}
	if s.skim.Attribute != nil {
		s.dropAttributes(tag)
	}
	f.element = s.slabs.element(len(s.work.attrs))
	f.element.Space, f.element.Tag = prefix, tag
	setAttributes(f.element, s.work.attrs, s.prefixed)
}

// wanted says whether an element becomes part of the tree.
func (s *scanner) wanted(tag string) bool {
	if s.skim.Element == nil || len(s.work.open) == 1 {
		return true
	}
	return s.skipping == 0 && s.skim.Element(s.top().element.Tag, tag)
}

// dropAttributes takes out of the working memory what is left out of the tree.
func (s *scanner) dropAttributes(tag string) {
	kept := s.work.attrs[:0]
	for i := range s.work.attrs {
		if a := &s.work.attrs[i]; a.Space != "" || s.skim.Attribute(tag, a.Key) {
			kept = append(kept, *a)
		}
	}
	s.work.attrs = kept
}

// setAttributes gives a new element its attributes.
func setAttributes(e *etree.Element, attrs []etree.Attr, prefixed bool) {
	if !prefixed {
		e.Attr = append(e.Attr, attrs...)
		return
	}
	for _, a := range attrs {
		if a.Space == "" {
			e.Attr = append(e.Attr, a)
		} else {
			e.CreateAttr(a.Space+":"+a.Key, a.Value)
		}
	}
}

// attributes reads on to the end of a start tag, into the working memory, and
// says whether the tag is that of an empty element.
func (s *scanner) attributes(f *frame) (empty bool, err error) {
	s.work.attrs, s.prefixed = s.work.attrs[:0], false
	for {
		blank := true
		if s.peek(0) == ' ' && !isBlank(s.peek(1)) { // as between most attributes
			s.pos++
		} else {
			blank = s.skipBlanks()
		}
		switch s.peek(0) {
		case '>':
			s.pos++
			return false, nil
		case '/':
			if s.peek(1) == '>' {
				s.pos += 2
				return true, nil
			}
			return false, s.tagFault(f)
		}
		if !blank {
			return false, s.tagFault(f)
		}
		if err := s.attribute(f); err != nil {
			return false, err
		}
	}
}

// attribute reads one attribute.
func (s *scanner) attribute(f *frame) error {
	start := s.pos
	name, classes, err := s.name()
	if err != nil {
		return s.tagFault(f)
	}
	if s.peek(0) != '=' {
		if s.skipBlanks(); s.peek(0) != '=' {
			return s.tagFault(f)
		}
	}
	s.pos++
	if s.peek(0) != '"' {
		s.skipBlanks()
	}
	at := s.pos + 1
	value, rich, err := s.value(f)
	if err != nil {
		return err
	}
	if s.records(attrWords) {
		s.tape.attribute(start, len(name), at, value, rich)
	}
	a := etree.Attr{Key: name, Value: value}
	if classes&colonByte != 0 {
		s.prefixed = true
		a.Space, a.Key = splitName(name)
		if name == "xml:space" {
			f.literal = value == "preserve"
		}
	}
	return s.addAttribute(a, start, f)
}

func (s *scanner) addAttribute(a etree.Attr, start int, f *frame) error {
	for i := range s.work.attrs {
		if s.work.attrs[i].Key == a.Key && s.work.attrs[i].Space == a.Space {
			return s.fault(start, notice.DuplicateAttribute, mend, "<%s> has the attribute %s twice", f.name, a.FullKey())
		}
	}
	if len(s.work.attrs) >= s.limits.Attributes {
		return s.fault(start, notice.TooManyAttributes, raiseLimit, "<%s> has more than %d attributes", f.name, s.limits.Attributes)
	}
	s.work.attrs = append(s.work.attrs, a)
	return nil
}

// value reads a quoted attribute value. A rich one is not simply a piece of the text.
func (s *scanner) value(f *frame) (value string, rich bool, err error) {
	quote := s.peek(0)
	if quote != '"' && quote != '\'' {
		return "", false, s.tagFault(f)
	}
	s.pos++
	text, start := s.text, s.pos
	for i := start; i < len(text); i++ {
		if c := text[i]; byteClasses[c]&valueStop != 0 {
			if c == quote {
				if i-start > s.limits.TextBytes {
					return "", false, s.tooLong(start)
				}
				s.pos = i + 1
				return text[start:i], false, nil
			}
			if c != '"' && c != '\'' {
				value, err = s.richValue(quote, f)
				return value, true, err
			}
		}
	}
	return "", false, s.truncated()
}

// endTag reads the end tag at pos and closes its element.
func (s *scanner) endTag() error {
	start, name := s.pos, s.top().name
	rest := s.text[start+2:]
	if name == "" || !strings.HasPrefix(rest, name) || len(rest) == len(name) {
		return s.endFault(start)
	}
	s.pos += 2 + len(name)
	if rest[len(name)] != '>' {
		if s.skipBlanks(); s.peek(0) != '>' {
			return s.endFault(start)
		}
	}
	s.pos++
	s.pop()
	return nil
}

// name reads a name and the classes that its bytes have between them.
func (s *scanner) name() (string, uint8, error) {
	text, start, i := s.text, s.pos, s.pos
	var classes uint8
	for ; i < len(text); i++ {
		class := byteClasses[text[i]]
		if class&nameByte == 0 {
			break
		}
		classes |= class
	}
	name := text[start:i]
	if len(name) > s.limits.TextBytes {
		return "", 0, s.tooLong(start)
	}
	if name == "" || byteClasses[name[0]]&nameStartByte == 0 ||
		classes&wideByte != 0 && !isName(name) || classes&colonByte != 0 && strings.Count(name, ":") > 1 {
		return "", 0, s.nameFault(start, name)
	}
	s.pos = i
	return name, classes, nil
}

// splitName splits a name at its colon. A colon at either end separates nothing.
func splitName(name string) (prefix, local string) {
	if i := strings.IndexByte(name, ':'); i > 0 && i < len(name)-1 {
		return name[:i], name[i+1:]
	}
	return "", name
}

func (s *scanner) skipBlanks() bool {
	if !isBlank(s.peek(0)) { // the zero byte past the end is none
		return false
	}
	text, i := s.text, s.pos+1
	for i < len(text) && isBlank(text[i]) {
		i++
	}
	s.pos = i
	return true
}
