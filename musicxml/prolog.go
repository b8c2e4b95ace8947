package musicxml

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml/notice"
)

// prolog reads what stands before the root, up to its start tag.
func (s *scanner) prolog() error {
	if err := s.declaration(); err != nil {
		return err
	}
	for seen := false; ; {
		s.skipBlanks()
		rest := s.text[s.pos:]
		switch {
		case rest == "":
			return s.truncated()
		case rest[0] != '<' && strings.Contains(rest[:min(len(rest), 512)], "<"):
			return s.fault(s.pos, notice.NotXML, "check that this is a MusicXML file", "this is not XML: it begins with %s", snippet(rest))
		case rest[0] != '<':
			return s.fault(s.pos, notice.NotMusicXML, notice.NotMusicXML.Remedy(), "this is not XML: it begins with %s", snippet(rest))
		case strings.HasPrefix(rest, "<!DOCTYPE") && !seen:
			seen = true
			if err := s.doctype(); err != nil {
				return err
			}
		case rest[1:] != "" && rest[1] != '!' && rest[1] != '?':
			return nil
		default:
			if err := s.misc(); err != nil {
				return err
			}
		}
	}
}

// declaration reads the XML declaration, if there is one. The tree is UTF-8
// whatever the file was, and says so.
func (s *scanner) declaration() error {
	const open = "<?xml"
	if !strings.HasPrefix(s.text, open) || len(s.text) == len(open) || !isBlank(s.text[len(open)]) {
		return nil
	}
	_, data, err := s.instructionText()
	if err != nil {
		return err
	}
	d, ok := parseDeclaration(data)
	if !ok {
		return s.fault(0, notice.NotXML, mend, "the XML declaration is malformed")
	}
	if d.version != "1.0" {
		return s.fault(0, notice.NotXML, "save the file as XML 1.0", "this is XML %s; only XML 1.0 is read", snippet(d.version))
	}
	if d.encoding != "" && !strings.EqualFold(d.encoding, "UTF-8") {
		data = d.inUTF8()
	}
	s.add(etree.NewProcInst("xml", data))
	return nil
}

// misc reads a comment or a processing instruction outside the root.
func (s *scanner) misc() error {
	switch rest := s.text[s.pos:]; {
	case strings.HasPrefix(rest, "<?"):
		return s.instruction()
	case strings.HasPrefix(rest, "<!--"):
		return s.comment()
	case len(rest) >= 14 && strings.EqualFold(rest[:14], "<!doctype html"):
		return s.fault(s.pos, notice.WrongRoot, wrongRootHint, "this is not a score but a web page")
	}
	return s.fault(s.pos, notice.NotXML, mend, "%s may not stand here", snippet(s.text[s.pos:]))
}

// epilog reads what stands after the root.
func (s *scanner) epilog() error {
	for {
		s.skipBlanks()
		switch {
		case s.pos == len(s.text):
			return nil
		case s.text[s.pos] != '<':
			return s.fault(s.pos, notice.TextOutsideRoot, mend, "text stands after the end of the document: %s", snippet(s.text[s.pos:]))
		case s.peek(1) != '!' && s.peek(1) != '?':
			return s.fault(s.pos, notice.TwoRoots, mend, "a second document begins after the end of the first: %s", snippet(s.text[s.pos:]))
		}
		if err := s.misc(); err != nil {
			return err
		}
	}
}

// rootName returns the name of the element whose start tag is at pos.
func (s *scanner) rootName() string {
	end := s.pos + 1
	for end < len(s.text) && byteClasses[s.text[end]]&nameByte != 0 {
		end++
	}
	_, local := splitName(s.text[s.pos+1 : end])
	return local
}

// declaration is what an XML declaration says.
type declaration struct{ version, encoding, standalone string }

// parseDeclaration reads the inside of an XML declaration (XML 1.0, 2.8).
func parseDeclaration(data string) (d declaration, ok bool) {
	for _, field := range []struct {
		name  string
		value *string
	}{{"version", &d.version}, {"encoding", &d.encoding}, {"standalone", &d.standalone}} {
		rest, found := strings.CutPrefix(strings.TrimLeft(data, blanks), field.name)
		if !found {
			continue
		}
		rest, found = strings.CutPrefix(strings.TrimLeft(rest, blanks), "=")
		rest = strings.TrimLeft(rest, blanks)
		if !found || rest == "" || rest[0] != '"' && rest[0] != '\'' {
			return d, false
		}
		*field.value, data, found = strings.Cut(rest[1:], rest[:1])
		if !found || data != "" && !isBlank(data[0]) {
			return d, false
		}
	}
	return d, d.version != "" && strings.Trim(data, blanks) == ""
}

// inUTF8 is the declaration of the same document in UTF-8.
func (d declaration) inUTF8() string {
	text := `version="1.0" encoding="UTF-8"`
	if d.standalone != "" {
		text += ` standalone="` + d.standalone + `"`
	}
	return text
}

// blanks is the white space of XML (1.0, 2.3).
const blanks = " \t\r\n"
