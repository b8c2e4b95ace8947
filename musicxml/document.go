package musicxml

import (
	"strings"

	"github.com/beevik/etree"
)

// ParseDocument reads any XML document with the strict scanner. The tree shares
// data, which must not change while it is in use.
func ParseDocument(data []byte, o ReadOptions) (*etree.Document, error) {
	limits := o.Limits.withDefaults()
	if int64(len(data)) > limits.InputBytes {
		return nil, Locate(tooLarge(limits.InputBytes), Error{File: o.Name})
	}
	text, err := decode(data)
	if err != nil {
		return nil, Locate(err, Error{File: o.Name})
	}
	s := newScanner(text, limits, nil, nil)
	doc, err := s.document()
	if err != nil {
		return nil, s.locate(err, o.Name)
	}
	return doc, nil
}

// NewDocument returns a deep copy of the header, declared as UTF-8, to whose
// root a <part> can be added. A DOCTYPE stays, without its internal subset: the
// entities in it have been expanded.
func (s *Score) NewDocument() *etree.Document {
	return s.copyHeader(nil, func(*etree.Element) bool { return true })
}

// NewPartDocument is NewDocument, in the memory of slabs, with the entry of part i
// alone in the part-list: no other entries and no groups. A whole part-list in every
// part would cost the square of the parts. Nil slabs give it memory of its own.
func (s *Score) NewPartDocument(i int, slabs *Slabs) *etree.Document {
	return s.copyHeader(slabs, func(entry *etree.Element) bool {
		return entry.Tag == "score-part" && i >= 0 && i < len(s.Parts) && idOf(entry) == s.Parts[i].ID
	})
}

// copyHeader copies the header with those entries of the part-list that keep
// says yes to.
func (s *Score) copyHeader(slabs *Slabs, keep func(entry *etree.Element) bool) *etree.Document {
	doc := etree.NewDocument()
	for _, t := range s.Header.Child {
		if e, ok := t.(*etree.Element); ok {
			doc.AddChild(slabs.copyRoot(e, keep))
		} else {
			doc.AddChild(copyToken(t))
		}
	}
	declareUTF8(doc)
	dropSubset(doc)
	return doc
}

func (s *Slabs) copyRoot(root *etree.Element, keep func(entry *etree.Element) bool) *etree.Element {
	copied := s.copyShell(root)
	for _, t := range root.Child {
		list, ok := t.(*etree.Element)
		if !ok || list.Tag != "part-list" {
			copied.AddChild(s.copyToken(t))
			continue
		}
		short := s.copyShell(list)
		for _, t := range list.Child {
			if entry, ok := t.(*etree.Element); !ok || keep(entry) {
				short.AddChild(s.copyToken(t))
			}
		}
		copied.AddChild(short)
	}
	return copied
}

// copyToken copies a token and all in it. The copy has no parent.
func copyToken(t etree.Token) etree.Token {
	switch t := t.(type) {
	case *etree.Element:
		return t.Copy()
	case *etree.CharData:
		if t.IsCData() {
			return etree.NewCData(t.Data)
		}
		return etree.NewText(t.Data)
	case *etree.Comment:
		return etree.NewComment(t.Data)
	case *etree.ProcInst:
		return etree.NewProcInst(t.Target, t.Inst)
	case *etree.Directive:
		return etree.NewDirective(t.Data)
	}
	return etree.NewText("")
}

func copyTokens(tokens []etree.Token) []etree.Token {
	var copies []etree.Token
	for _, t := range tokens {
		copies = append(copies, copyToken(t))
	}
	return copies
}

// declareUTF8 makes the XML declaration name the encoding, which many programs
// look for.
func declareUTF8(doc *etree.Document) {
	if len(doc.Child) > 0 {
		if p, ok := doc.Child[0].(*etree.ProcInst); ok && p.Target == "xml" {
			d, _ := parseDeclaration(p.Inst)
			p.Inst = d.inUTF8()
			return
		}
	}
	doc.InsertChildAt(0, etree.NewProcInst("xml", declaration{}.inUTF8()))
}

// dropSubset takes the internal subset out of the DOCTYPE.
func dropSubset(doc *etree.Document) {
	for _, t := range doc.Child {
		if d, ok := t.(*etree.Directive); ok {
			external := d.Data
			if i := indexUnquoted(external, 0, "["); i >= 0 { // one may stand in the DTD's quoted name
				external = external[:i]
			}
			d.Data = strings.TrimRight(external, blanks)
		}
	}
}

// Assemble returns the whole score as one document again: the header, the given
// parts (one for each of s.Parts; nil leaves one out), and the comments and
// processing instructions in their places.
func (s *Score) Assemble(parts []*etree.Element) *etree.Document {
	doc := s.NewDocument()
	root := doc.Root()
	for i, part := range parts {
		if i < len(s.Parts) {
			addCopies(root, s.Parts[i].Before)
		}
		if part != nil {
			root.AddChild(part)
		}
	}
	addCopies(root, s.AfterParts)
	addCopies(&doc.Element, s.Trailer)
	return doc
}

func addCopies(e *etree.Element, tokens []etree.Token) {
	for _, t := range copyTokens(tokens) {
		e.AddChild(t)
	}
}
