package musicxml

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml/notice"
)

// doctype reads the document type declaration (XML 1.0, 2.8). Of the DTD that
// it names nothing is fetched; of its internal subset only the general entities
// are taken note of. As in etree a comment inside leaves a space.
func (s *scanner) doctype() error {
	start := s.pos
	s.pos += len("<!DOCTYPE")
	d := doctypeScanner{scanner: s, known: &entities{budget: s.limits.EntityBytes}}
	if err := d.read(); err != nil {
		return err
	}
	d.known.settle()
	s.entities = d.known
	s.add(etree.NewDirective(d.directive(start+len("<!"), s.pos-1)))
	return nil
}

// doctypeScanner reads one document type declaration.
type doctypeScanner struct {
	*scanner
	known    *entities
	comments [][2]int // where comments stand in it
}

// directive returns the declaration with a space for every comment.
func (d *doctypeScanner) directive(start, end int) string {
	if len(d.comments) == 0 {
		return d.text[start:end]
	}
	var b strings.Builder
	for _, c := range d.comments {
		b.WriteString(d.text[start:c[0]] + " ")
		start = c[1]
	}
	b.WriteString(d.text[start:end])
	return b.String()
}

func (d *doctypeScanner) read() error {
	if !d.skipBlanks() {
		return d.malformed()
	}
	if _, _, err := d.name(); err != nil {
		return err
	}
	d.skipBlanks()
	public, system, err := d.external()
	if err != nil {
		return err
	}
	d.known.letters = strings.Contains(public, "DTD MusicXML") || namesStandard(system)
	if d.skipBlanks(); d.peek(0) == '[' {
		d.pos++
		if err := d.subset(); err != nil {
			return err
		}
		d.skipBlanks()
	}
	if d.peek(0) != '>' {
		return d.malformed()
	}
	d.pos++
	return nil
}

// namesStandard says whether a system identifier is that of one of the
// standard's DTDs, wherever it may lie.
func namesStandard(system string) bool {
	switch system[strings.LastIndexAny(system, `/\`)+1:] {
	case "partwise.dtd", "timewise.dtd", "opus.dtd":
		return true
	}
	return false
}

func (d *doctypeScanner) malformed() error {
	if d.pos >= len(d.text) {
		return d.truncated()
	}
	return d.fault(d.pos, notice.NotXML, mend, "the DOCTYPE is malformed at %s", snippet(d.text[d.pos:]))
}

// external reads an external identifier, if there is one.
func (d *doctypeScanner) external() (public, system string, err error) {
	switch rest := d.text[d.pos:]; {
	case strings.HasPrefix(rest, "SYSTEM"):
	case strings.HasPrefix(rest, "PUBLIC"):
		d.pos += len("PUBLIC")
		if public, err = d.literal(); err != nil {
			return "", "", err
		}
		d.pos -= len("SYSTEM")
	default:
		return "", "", nil
	}
	d.pos += len("SYSTEM")
	system, err = d.literal()
	return public, system, err
}

// literal reads white space and a quoted text.
func (d *doctypeScanner) literal() (string, error) {
	blank, quote := d.skipBlanks(), d.peek(0)
	if !blank || quote != '"' && quote != '\'' {
		return "", d.malformed()
	}
	text, _, found := strings.Cut(d.text[d.pos+1:], string(quote))
	if !found {
		return "", d.truncated()
	}
	if i := badChar(text); i >= 0 {
		return "", d.fault(d.pos+1+i, notice.NotXML, mend, "a character stands in the DOCTYPE that may not stand in XML")
	}
	d.pos += len(text) + 2
	return text, nil
}

// subset reads the internal subset to its end.
func (d *doctypeScanner) subset() error {
	for {
		d.skipBlanks()
		rest, err := d.text[d.pos:], error(nil)
		switch {
		case strings.HasPrefix(rest, "]"):
			d.pos++
			return nil
		case strings.HasPrefix(rest, "%"):
			err = d.parameterReference()
		case strings.HasPrefix(rest, "<!--"):
			err = d.skipComment()
		case strings.HasPrefix(rest, "<?"):
			_, _, err = d.instructionText()
		case strings.HasPrefix(rest, "<!ENTITY"):
			err = d.entity()
		case strings.HasPrefix(rest, "<!"):
			d.pos += len("<!")
			err = d.finish()
		default:
			return d.malformed()
		}
		if err != nil {
			return err
		}
	}
}

// parameterReference passes over %name;: what it stands for may lie elsewhere,
// and nothing is fetched.
func (d *doctypeScanner) parameterReference() error {
	d.pos++
	if _, _, err := d.name(); err != nil {
		return err
	}
	if d.peek(0) != ';' {
		return d.malformed()
	}
	d.pos++
	return nil
}

func (d *doctypeScanner) skipComment() error {
	start := d.pos
	d.skipping++
	err := d.comment()
	d.skipping--
	d.comments = append(d.comments, [2]int{start, d.pos})
	return err
}

// finish passes over the rest of a declaration of any kind.
func (d *doctypeScanner) finish() error {
	i := indexUnquoted(d.text, d.pos, "<>")
	switch {
	case i < 0:
		return d.truncated()
	case d.text[i] == '<':
		d.pos = i
		return d.malformed()
	}
	d.pos = i + 1
	return nil
}

// entity reads an entity declaration (XML 1.0, 4.2).
func (d *doctypeScanner) entity() error {
	d.pos += len("<!ENTITY")
	if !d.skipBlanks() {
		return d.malformed()
	}
	parameter := d.peek(0) == '%'
	if parameter {
		if d.pos++; !d.skipBlanks() {
			return d.malformed()
		}
	}
	name, _, err := d.name()
	if err != nil {
		return err
	}
	e, err := d.entityValue(name)
	if err != nil {
		return err
	}
	if !parameter {
		d.known.declare(name, e)
	}
	return d.finish()
}

// entityValue reads what an entity stands for.
func (d *doctypeScanner) entityValue(name string) (*entity, error) {
	mark := d.pos
	d.skipBlanks()
	start := d.pos
	if _, _, err := d.external(); err != nil || d.pos > start {
		return outside(name), err
	}
	d.pos = mark
	text, err := d.literal()
	return &entity{text: characterReferences(plainLines(text))}, err
}
