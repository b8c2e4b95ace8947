package verify

import "github.com/beevik/etree"

// frozen is what a part held at a moment, for a tree that is changed in its place: a
// second tree would take several times the memory, and the time to build it. The zero
// value holds nothing.
type frozen struct {
	texts []string // names, values and texts, as they come in the tree
	kinds []int32  // of each token; behind that of an element how many attributes and children it has
}

// The kinds of tokens.
const (
	kindElement  = iota
	kindPrefixed // an element with a prefix in its name or one of its attributes'
	kindText
	kindCData
	kindComment
	kindInstruction
	kindOther
)

// freeze takes down what a part holds.
func (f *frozen) freeze(part *etree.Element) {
	f.texts, f.kinds = f.texts[:0], f.kinds[:0]
	f.element(part)
}

func (f *frozen) element(e *etree.Element) {
	kind := kindOf(e)
	f.kinds = append(f.kinds, kind, int32(len(e.Attr)), int32(len(e.Child)))
	f.texts = append(f.texts, e.Tag)
	for i := range e.Attr {
		f.texts = append(f.texts, e.Attr[i].Key, e.Attr[i].Value)
	}
	if kind == kindPrefixed {
		f.texts = append(f.texts, e.Space)
		for i := range e.Attr {
			f.texts = append(f.texts, e.Attr[i].Space)
		}
	}
	for _, token := range e.Child {
		if child, ok := token.(*etree.Element); ok {
			f.element(child)
			continue
		}
		kind, text := tokenText(token)
		f.kinds, f.texts = append(f.kinds, kind), append(f.texts, text)
	}
}

func kindOf(e *etree.Element) int32 {
	if e.Space != "" {
		return kindPrefixed
	}
	for i := range e.Attr {
		if e.Attr[i].Space != "" {
			return kindPrefixed
		}
	}
	return kindElement
}

// tokenText is what a token that is no element says.
func tokenText(token etree.Token) (kind int32, text string) {
	switch t := token.(type) {
	case *etree.CharData:
		if t.IsCData() {
			return kindCData, t.Data
		}
		return kindText, t.Data
	case *etree.Comment:
		return kindComment, t.Data
	case *etree.ProcInst:
		return kindInstruction, t.Target + " " + t.Inst
	case *etree.Directive:
		return kindOther, t.Data
	}
	return kindOther, ""
}

// is reports whether a part holds the very same.
func (f *frozen) is(part *etree.Element) bool {
	c := comparedTo{texts: f.texts, kinds: f.kinds}
	return c.element(part) && len(c.kinds) == 0
}

// comparedTo is what of a frozen part is still to be compared.
type comparedTo struct {
	texts []string
	kinds []int32
}

func (c *comparedTo) element(e *etree.Element) bool {
	kind := kindOf(e)
	if len(c.kinds) < 3 || c.kinds[0] != kind || int(c.kinds[1]) != len(e.Attr) || int(c.kinds[2]) != len(e.Child) || !c.text(e.Tag) {
		return false
	}
	c.kinds = c.kinds[3:]
	for i := range e.Attr {
		if !c.text(e.Attr[i].Key) || !c.text(e.Attr[i].Value) {
			return false
		}
	}
	return (kind == kindElement || c.prefixes(e)) && c.children(e)
}

func (c *comparedTo) prefixes(e *etree.Element) bool {
	if !c.text(e.Space) {
		return false
	}
	for i := range e.Attr {
		if !c.text(e.Attr[i].Space) {
			return false
		}
	}
	return true
}

func (c *comparedTo) children(e *etree.Element) bool {
	for _, token := range e.Child {
		if child, ok := token.(*etree.Element); ok {
			if !c.element(child) {
				return false
			}
			continue
		}
		kind, text := tokenText(token)
		if len(c.kinds) == 0 || c.kinds[0] != kind || !c.text(text) {
			return false
		}
		c.kinds = c.kinds[1:]
	}
	return true
}

// text takes the next text and reports whether it is this one.
func (c *comparedTo) text(text string) bool {
	next := c.texts[0] // there is one: the kinds are the same so far
	c.texts = c.texts[1:]
	return next == text
}

// forget lets go of the texts.
func (f *frozen) forget() {
	clear(f.texts[:cap(f.texts)])
	f.texts = f.texts[:0]
}
