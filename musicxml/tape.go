package musicxml

import (
	"math"

	"github.com/beevik/etree"
)

// tape is where the tags, attributes and texts of a part stand in its text. It
// is noted down while the text is scanned, so that the part can be read again
// without: of a text that was found well-formed only the tree is still to be built.
//
// It is a row of words of 32 bits. Each element and each text beside elements takes
// headWords of them: how it is made up, where it stands in the text, and two more
// that depend on its kind; an element's attributes follow, in attrWords each, and
// then what is inside it.
type tape struct {
	words []uint32
	// rich are the texts and values that are not simply pieces of the text.
	rich []string
	// lost: the part has what a tape does not say, such as comments, or blanks
	// that mean something.
	lost bool
	// anyPrefix: some name has a prefix.
	anyPrefix bool
	counted   int // words that the score counts while it is noted down
}

const (
	headWords = 4
	attrWords = 2
)

// The kinds of what has a head, in its lowest bits.
const (
	tapeOpen  = iota // an element with children: their number; the word after its end
	tapeLeaf         // an element with a plain text: its place; its length
	tapeEmpty        // an element without anything inside
	tapeText         // a text beside elements, or one that was resolved: its length
	tapeKinds = 3    // the bits of a kind
)

// Further bits of a head's first word: the number of attributes and the length of
// the name in bytes of their own.
const (
	tapeRich     = 1 << 2 // the place of a text is one among the rich texts
	tapeColon    = 1 << 3 // the name has a prefix
	tapePrefixed = 1 << 4 // an attribute has one
	attrsShift   = 8
	nameShift    = 16
	most8        = math.MaxUint8
	most16       = math.MaxUint16
	// richValue stands in place of the distance from an attribute's name to its
	// value, with the value's place among the rich texts in place of its length.
	richGap = most8
)

// reserve makes room for the head of an element whose tag is about to be read.
func (o *tape) reserve() int {
	at := len(o.words)
	o.words = append(o.words, 0, 0, 0, 0)
	return at
}

// attribute notes an attribute by the places of its name and value, which the value
// in the tree is if it is no rich one.
func (o *tape) attribute(name, nameLength, valueStart int, value string, rich bool) {
	gap, length := valueStart-name, len(value)
	if rich {
		gap, length = richGap, len(o.rich)
		o.rich = append(o.rich, value)
	} else if gap >= richGap {
		o.lost = true
	}
	if nameLength > most8 || length > most16 {
		o.lost = true
		return
	}
	o.words = append(o.words, uint32(name), uint32(nameLength|gap<<8|length<<16))
}

// tag fills the head of an element whose tag was read.
func (o *tape) tag(at, name, nameLength, attrs int, colon, prefixed bool) {
	if attrs > most8 || nameLength > most8 {
		o.lost = true
		return
	}
	o.anyPrefix = o.anyPrefix || colon || prefixed
	head := uint32(tapeOpen | attrs<<attrsShift | nameLength<<nameShift)
	if colon {
		head |= tapeColon
	}
	if prefixed {
		head |= tapePrefixed
	}
	o.words[at], o.words[at+1] = head, uint32(name)
}

// leaf says of an element that it has a plain text and nothing else.
func (o *tape) leaf(at, start, length int) {
	o.words[at] |= tapeLeaf
	o.words[at+2], o.words[at+3] = uint32(start), uint32(length)
}

// empty says of an element that it has nothing inside.
func (o *tape) empty(at int) { o.words[at] |= tapeEmpty }

// end says of an element how many children it has, now that it ends.
func (o *tape) end(at, children int) {
	o.words[at+2], o.words[at+3] = uint32(children), uint32(len(o.words))
}

// text notes a text that is a piece of the part's.
func (o *tape) text(start, length int) {
	o.words = append(o.words, tapeText, uint32(start), uint32(length), 0)
}

// richText notes a text that had to be resolved.
func (o *tape) richText(text string) {
	o.words = append(o.words, tapeText|tapeRich, uint32(len(o.rich)), 0, 0)
	o.rich = append(o.rich, text)
}

// standing is an element that is being built: how many of its children are to come.
type standing struct {
	element *etree.Element
	left    uint32
}

// build makes the tree of the part whose text it is.
func (o *tape) build(text string, slabs *Slabs, skim Skim) *etree.Element {
	if slabs == nil {
		slabs = new(Slabs)
	}
	b := tapeBuilder{tape: o, text: text, slabs: slabs, skim: skim}
	open := slabs.work.built[:0]
	root := b.element(nil)
	open = append(open, standing{root, b.children})
	for len(open) > 0 {
		top := &open[len(open)-1]
		if top.left == 0 {
			open = open[:len(open)-1]
			continue
		}
		top.left--
		if o.words[b.at]&tapeKinds == tapeText {
			top.element.AddChild(b.plainText())
			continue
		}
		if e := b.element(top.element); e != nil {
			top.element.AddChild(e)
			if b.children > 0 {
				open = append(open, standing{e, b.children})
			}
		}
	}
	slabs.work.built = open
	return root
}

// tapeBuilder goes through a tape.
type tapeBuilder struct {
	*tape
	text     string
	slabs    *Slabs
	skim     Skim
	at       int
	children uint32 // that are to come in the element that was just made
}

func (b *tapeBuilder) plainText() *etree.CharData {
	w := b.words[b.at : b.at+headWords]
	b.at += headWords
	if w[0]&tapeRich != 0 {
		return b.slabs.text(b.rich[w[1]])
	}
	return b.slabs.text(b.text[w[1] : w[1]+w[2]])
}

// element makes the next element, with its text if it is a leaf; nil where it is
// left out with all that is inside it.
func (b *tapeBuilder) element(parent *etree.Element) *etree.Element {
	w := b.words[b.at : b.at+headWords]
	head := w[0]
	attrs := int(head >> attrsShift & most8)
	prefix, tag := "", b.text[w[1]:w[1]+head>>nameShift]
	if head&tapeColon != 0 {
		prefix, tag = splitName(tag)
	}
	b.at, b.children = b.at+headWords, 0
	if parent != nil && b.skim.Element != nil && !b.skim.Element(parent.Tag, tag) {
		if b.at += attrs * attrWords; head&tapeKinds == tapeOpen {
			b.at = int(w[3])
		}
		return nil
	}
	e := b.withAttributes(tag, attrs, head&tapePrefixed != 0)
	e.Space, e.Tag = prefix, tag
	switch head & tapeKinds {
	case tapeLeaf:
		e.Child = b.slabs.tokens.take(1)[:0]
		e.AddChild(b.slabs.text(b.text[w[2] : w[2]+w[3]]))
	case tapeOpen:
		if b.children = w[2]; b.children > 0 {
			e.Child = b.slabs.tokens.take(int(b.children))[:0]
		}
	}
	return e
}

// withAttributes makes an element with those of its attributes that stay.
func (b *tapeBuilder) withAttributes(tag string, n int, prefixed bool) *etree.Element {
	work := b.slabs.work.attrs[:0]
	for range n {
		name, w := b.words[b.at], b.words[b.at+1]
		b.at += attrWords
		a := etree.Attr{Key: b.text[name : name+w&most8]}
		if prefixed {
			a.Space, a.Key = splitName(a.Key)
		}
		if a.Space == "" && b.skim.Attribute != nil && !b.skim.Attribute(tag, a.Key) {
			continue
		}
		if gap := w >> 8 & most8; gap == richGap {
			a.Value = b.rich[w>>16]
		} else {
			a.Value = b.text[name+gap : name+gap+w>>16]
		}
		work = append(work, a)
	}
	b.slabs.work.attrs = work
	e := b.slabs.element(len(work))
	setAttributes(e, work, prefixed)
	return e
}
