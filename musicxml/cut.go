package musicxml

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml/notice"
)

// cutter reads a score's header and leaves the parts as pieces of text. In the
// header's tree an empty <part> stands for each of them.
type cutter struct {
	*scanner
	timed    bool         // the score is timewise
	measures []measureCut // timewise: the measures of the score
	parts    []partCut    // partwise: the parts of the score
	elements int          // beside the parts, so far
}

// partCut is where a part stands in the text.
type partCut struct {
	mark       *etree.Element // the empty <part> in its place, with its attributes
	start, end int            // of the whole element
	from, to   int            // of what is inside it
	weight     Weight
}

// measureCut is a measure of a timewise score, with what it has of each part.
type measureCut struct {
	parts []partCut
}

// partwise cuts where a part begins directly under the root.
func (c *cutter) partwise() (bool, error) {
	if err := c.count(); err != nil {
		return false, err
	}
	if len(c.work.open) != 2 || !isTag(c.text[c.pos+1:], "part") {
		return false, nil
	}
	part, err := c.part()
	c.parts = append(c.parts, part)
	if err == nil && len(c.parts) > c.limits.Parts {
		err = c.fault(part.start, notice.TooManyParts, raiseLimit, "the score has more than %d parts", c.limits.Parts)
	}
	return true, err
}

// count counts the elements that stand beside the parts: every part takes them along.
func (c *cutter) count() error {
	if c.elements++; c.elements-len(c.parts)-len(c.measures) > c.limits.Header {
		return c.fault(c.pos, notice.TooLarge, raiseLimit, "more than %d elements stand beside the parts", c.limits.Header)
	}
	return nil
}

// timewise cuts where a part begins inside a measure under the root.
func (c *cutter) timewise() (bool, error) {
	if len(c.work.open) < 3 || c.top().name != "measure" {
		if err := c.count(); err != nil {
			return false, err
		}
	}
	switch rest := c.text[c.pos+1:]; {
	case len(c.work.open) == 2 && isTag(rest, "measure"):
		c.measures = append(c.measures, measureCut{})
		return false, nil
	case len(c.work.open) != 3 || c.top().name != "measure" || !isTag(rest, "part"):
		return false, nil
	}
	part, err := c.part()
	m := &c.measures[len(c.measures)-1]
	m.parts = append(m.parts, part)
	return true, err
}

// part passes over the part that begins at pos.
func (c *cutter) part() (partCut, error) {
	p := partCut{start: c.pos}
	f := frame{name: "part", pos: c.pos}
	c.pos += len("<part")
	empty, err := c.attributes(&f)
	if err != nil {
		return p, err
	}
	c.build(&f, 0)
	c.finish(f.element)
	p.mark, p.from, p.to = f.element, c.pos, c.pos
	if !empty {
		p.to, c.pos, p.weight = elementEnd(c.text, c.pos, "part")
	}
	if p.end = c.pos; p.to < 0 {
		c.push(f) // so that the message names the part
		return p, c.truncated()
	}
	return p, nil
}

// isTag reports whether a text begins with a tag's name and what may follow it.
func isTag(text, tag string) bool {
	if !strings.HasPrefix(text, tag) || len(text) == len(tag) {
		return false
	}
	c := text[len(tag)]
	return c == '>' || c == '/' || isBlank(c)
}

// elementEnd finds the end of an element whose inside begins at pos: where its
// end tag begins and where it ends; -1, -1 where the text is cut off. Nothing
// inside comments, CDATA sections and processing instructions is taken for a tag,
// and "<" stands nowhere else in text that is well-formed. What is passed is counted.
func elementEnd(text string, pos int, tag string) (start, end int, weight Weight) {
	for depth := 1; ; {
		next := strings.IndexByte(text[pos:], '<')
		if next < 0 || pos+next+1 >= len(text) {
			return -1, -1, weight
		}
		pos += next
		switch text[pos+1] {
		case '!', '?':
			if pos = skipMarkup(text, pos); pos < 0 {
				return -1, -1, weight
			}
			continue
		case '/':
			if isTag(text[pos+2:], tag) {
				start = pos
				if pos, _ = tagEnd(text, pos); pos < 0 {
					return -1, -1, weight
				}
				if depth--; depth == 0 {
					return start, pos, weight
				}
				continue
			}
		case 'n':
			weight.Elements++
			if isTag(text[pos+1:], "note") {
				weight.Notes++
			}
		case 'm':
			weight.Elements++
			if isTag(text[pos+1:], "measure") {
				weight.Measures++
			}
		case tag[0]:
			weight.Elements++
			if isTag(text[pos+1:], tag) {
				var empty bool
				if pos, empty = tagEnd(text, pos); pos < 0 {
					return -1, -1, weight
				}
				if !empty {
					depth++
				}
				continue
			}
		default:
			weight.Elements++
		}
		pos += 2
	}
}

// skipMarkup returns the place after the comment, CDATA section, processing
// instruction or the like that begins at pos; -1 where it does not end.
func skipMarkup(text string, pos int) int {
	shut := ">"
	for _, kind := range []struct{ open, shut string }{{"<!--", "-->"}, {"<![CDATA[", "]]>"}, {"<?", "?>"}} {
		if strings.HasPrefix(text[pos:], kind.open) {
			pos, shut = pos+len(kind.open), kind.shut
			break
		}
	}
	length := strings.Index(text[pos:], shut)
	if length < 0 {
		return -1
	}
	return pos + length + len(shut)
}

// tagEnd returns the place after the tag that begins at pos, aware of quotes, or
// -1, and whether it is that of an empty element.
func tagEnd(text string, pos int) (end int, empty bool) {
	i := indexUnquoted(text, pos, ">")
	if i < 0 {
		return -1, false
	}
	return i + 1, text[i-1] == '/'
}

// indexUnquoted returns the place of the first of the signs, from pos on, that stands
// in no quotes; -1 where there is none.
func indexUnquoted(text string, pos int, signs string) int {
	var quote byte
	for i := pos; i < len(text); i++ {
		switch c := text[i]; {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case strings.IndexByte(signs, c) >= 0:
			return i
		}
	}
	return -1
}

// checkRoot says whether the root's name is that of a score.
func (c *cutter) checkRoot(name string) error {
	switch name {
	case "score-partwise":
		c.cut = c.partwise
		return nil
	case "score-timewise":
		c.cut, c.timed = c.timewise, true
		return nil
	case "opus":
		return c.fault(c.pos, notice.Opus, "give the scores themselves", "this is an opus, a list of scores")
	case "html", "HTML":
		return c.fault(c.pos, notice.WrongRoot, wrongRootHint, "this is not a score but a web page")
	case "container":
		return c.fault(c.pos, notice.WrongRoot, wrongRootHint, "this is not a score but the table of contents of a compressed one")
	}
	return c.fault(c.pos, notice.WrongRoot, wrongRootHint, "this is not a score: its root element is <%s>", snippet(name))
}

const wrongRootHint = "export the score as MusicXML"

// cutScore reads the header of a score and finds its parts.
func (s *Score) cutScore(text string) error {
	c := &cutter{scanner: newScanner(text, s.limits, nil, nil)}
	doc, err := c.score()
	if err != nil {
		return c.locate(err, s.Name)
	}
	if s.buffers != nil {
		ownStrings(&doc.Element)
	}
	s.text, s.Header, s.known = text, doc, c.entities
	s.Version = doc.Root().SelectAttrValue("version", "1.0")
	if c.anyPrefix {
		s.warnUndeclared(settlePrefixes(doc.Root(), doc.Root()))
	}
	s.takeTrailer()
	if s.Timewise = c.timed; !s.Timewise {
		s.takeParts(c)
	} else if err := s.takeMeasures(c); err != nil {
		return c.locate(err, s.Name)
	}
	return s.identify()
}

// ownStrings gives a tree strings of its own, which outlive the text.
func ownStrings(e *etree.Element) {
	e.Space, e.Tag = strings.Clone(e.Space), strings.Clone(e.Tag)
	for i := range e.Attr {
		a := &e.Attr[i]
		a.Space, a.Key, a.Value = strings.Clone(a.Space), strings.Clone(a.Key), strings.Clone(a.Value)
	}
	for _, t := range e.Child {
		switch t := t.(type) {
		case *etree.Element:
			ownStrings(t)
		case *etree.CharData:
			t.Data = strings.Clone(t.Data)
		case *etree.Comment:
			t.Data = strings.Clone(t.Data)
		case *etree.Directive:
			t.Data = strings.Clone(t.Data)
		case *etree.ProcInst:
			t.Target, t.Inst = strings.Clone(t.Target), strings.Clone(t.Inst)
		}
	}
}

// takeTrailer moves what follows the root from the header to the score.
func (s *Score) takeTrailer() {
	end := s.Header.Root().Index() + 1
	for _, t := range s.Header.Child[end:] {
		s.Trailer = append(s.Trailer, copyToken(t))
	}
	s.Header.Child = s.Header.Child[:end:end]
}

// score reads the document but for its parts.
func (c *cutter) score() (*etree.Document, error) {
	defer c.close()
	doc := etree.NewDocument()
	c.pushHome(&doc.Element)
	if err := c.prolog(); err != nil {
		return nil, err
	}
	if err := c.checkRoot(c.rootName()); err != nil {
		return nil, err
	}
	return doc, c.rest()
}

// takeParts moves the parts from the header's tree to the score.
func (s *Score) takeParts(c *cutter) {
	_ = s.sortOut(func(t etree.Token, before []etree.Token) (bool, error) {
		next := len(s.Parts)
		if next == len(c.parts) || t != etree.Token(c.parts[next].mark) {
			return false, nil
		}
		s.Parts = append(s.Parts, newRawPart(c, c.parts[next], before))
		return true, nil
	})
}

// sortOut takes the music out of the header's tree. take gets each child of the root, with
// what stands before it, and says whether it is music.
func (s *Score) sortOut(take func(t etree.Token, before []etree.Token) (bool, error)) error {
	root := s.Header.Root()
	var header, before []etree.Token
	for _, t := range root.Child {
		taken, err := take(t, before)
		switch {
		case err != nil:
			return err
		case taken:
			before = nil
		case isAside(t):
			before = append(before, t)
		default:
			// What stands before an element of the header belongs to it.
			header = append(append(header, before...), t)
			before = nil
		}
	}
	root.Child = header
	root.ReindexChildren()
	s.AfterParts = copyTokens(before)
	return nil
}

func newRawPart(c *cutter, p partCut, before []etree.Token) RawPart {
	return RawPart{
		ID:     idOf(p.mark),
		Before: copyTokens(before),
		data:   c.text[p.start:p.end],
		pieces: []piece{{at: p.start}},
		weight: p.weight,
	}
}

// piece says where a piece of a part's text comes from.
type piece struct {
	pos int // in the part's text
	at  int // in the file's text
}

// lineIn returns the line of the file of a place in a part's text.
func (s *Score) lineIn(p RawPart, pos int) int {
	at := 0
	for _, piece := range p.pieces {
		if piece.pos > pos {
			break
		}
		at = piece.at + pos - piece.pos
	}
	return lineOf(s.text, at)
}

// isAside reports whether a token is a comment or a processing instruction.
func isAside(t etree.Token) bool {
	switch t.(type) {
	case *etree.Comment, *etree.ProcInst:
		return true
	}
	return false
}
