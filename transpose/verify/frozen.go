package verify

import "github.com/beevik/etree"

// frozen is what a part held at a moment, for a tree that is changed in its place: a
// second tree would take several times the memory, and the time to build it. The zero
// value holds nothing.
type frozen struct {
	texts tape[string] // names, values and texts, as they come in the tree
	kinds tape[int32]  // of each token; behind that of an element how many attributes and children it has
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
	f.texts.rewind()
	f.kinds.rewind()
	f.element(part)
}

func (f *frozen) element(e *etree.Element) {
	kind := kindOf(e)
	f.kinds.add(kind)
	f.kinds.add(int32(len(e.Attr)))
	f.kinds.add(int32(len(e.Child)))
	f.texts.add(e.Tag)
	for i := range e.Attr {
		f.texts.add(e.Attr[i].Key)
		f.texts.add(e.Attr[i].Value)
	}
	if kind == kindPrefixed {
		f.texts.add(e.Space)
		for i := range e.Attr {
			f.texts.add(e.Attr[i].Space)
		}
	}
	for _, token := range e.Child {
		if child, ok := token.(*etree.Element); ok {
			f.element(child)
			continue
		}
		kind, text := tokenText(token)
		f.kinds.add(kind)
		f.texts.add(text)
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
	c := comparedTo{texts: f.texts.read(), kinds: f.kinds.read()}
	return c.element(part) && c.kinds.atEnd()
}

// comparedTo is what of a frozen part is still to be compared.
type comparedTo struct {
	texts reel[string]
	kinds reel[int32]
}

func (c *comparedTo) element(e *etree.Element) bool {
	kind := kindOf(e)
	if !c.kinds.next(kind) || !c.kinds.next(int32(len(e.Attr))) || !c.kinds.next(int32(len(e.Child))) || !c.texts.next(e.Tag) {
		return false
	}
	for i := range e.Attr {
		if !c.texts.next(e.Attr[i].Key) || !c.texts.next(e.Attr[i].Value) {
			return false
		}
	}
	return (kind == kindElement || c.prefixes(e)) && c.children(e)
}

func (c *comparedTo) prefixes(e *etree.Element) bool {
	if !c.texts.next(e.Space) {
		return false
	}
	for i := range e.Attr {
		if !c.texts.next(e.Attr[i].Space) {
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
		if kind, text := tokenText(token); !c.kinds.next(kind) || !c.texts.next(text) {
			return false
		}
	}
	return true
}
