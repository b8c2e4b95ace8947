package musicxml

import (
	"fmt"
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml/notice"
)

// xlinkSpace is what the prefix xlink stands for. The DTD of MusicXML declares it for
// every document that names the DTD.
const xlinkSpace = "http://www.w3.org/1999/xlink"

// A prefix of a name must be declared by the element that has it or one around it
// (Namespaces in XML 1.0, 5). What nothing declares cannot be written again: readers
// refuse such a file. What is declared between the root and the element that has it is
// declared at that element too, so that a copy of it can stand in another document.

// settlePrefixes takes out of a tree what has a prefix that nothing declares, and
// returns those prefixes. The root's declarations hold for the tree; xlink, which a
// document type declares, is declared where it is used.
func settlePrefixes(tree, root *etree.Element) (undeclared []string) {
	p := prefixes{root: declaredBy(root)}
	if tree != nil {
		p.element(tree, nil)
	}
	slices.Sort(p.undeclared)
	return slices.Compact(p.undeclared)
}

type prefixes struct {
	root       []string
	undeclared []string
}

// scope is a prefix that an element around declares.
type scope struct {
	declaration etree.Attr
	wide        bool // by a part or a measure, which copies of what is in it leave behind
}

// declaredBy lists the prefixes that an element declares.
func declaredBy(e *etree.Element) []string {
	var list []string
	for _, a := range e.Attr {
		if a.Space == "xmlns" {
			list = append(list, a.Key)
		}
	}
	return list
}

// element settles an element and what is in it, within the declarations around it; it
// returns false where the element itself cannot stay.
func (p *prefixes) element(e *etree.Element, around []scope) bool {
	around = slices.Clip(around)
	for _, a := range e.Attr {
		if a.Space == "xmlns" {
			around = append(around, scope{a, isMeasure(e) || e.Tag == "part"})
		}
	}
	if e.Space != "" && !p.declares(e, &around, e.Space) {
		p.undeclared = append(p.undeclared, e.Space)
		return false
	}
	p.attributes(e, &around)
	for i := 0; i < len(e.Child); i++ {
		if c, ok := e.Child[i].(*etree.Element); ok && !p.element(c, around) {
			e.RemoveChildAt(i)
			i--
		}
	}
	return true
}

// attributes settles the prefixes of an element's attributes.
func (p *prefixes) attributes(e *etree.Element, around *[]scope) {
	for _, a := range slices.Clone(e.Attr) {
		if a.Space == "" || a.Space == "xmlns" || p.declares(e, around, a.Space) {
			continue
		}
		if a.Space == "xlink" {
			e.CreateAttr("xmlns:xlink", xlinkSpace)
			continue
		}
		p.undeclared = append(p.undeclared, a.Space)
		e.RemoveAttr(a.FullKey())
	}
}

// declares reports whether a prefix is declared for an element. What its part or its
// measure declares is declared at the element too.
func (p *prefixes) declares(e *etree.Element, around *[]scope, prefix string) bool {
	for _, s := range slices.Backward(*around) {
		if s.declaration.Key != prefix {
			continue
		}
		if s.wide && !isMeasure(e) && e.Tag != "part" {
			e.CreateAttr(s.declaration.FullKey(), s.declaration.Value)
			*around = append(*around, scope{declaration: s.declaration})
		}
		return true
	}
	return prefix == "xml" || slices.Contains(p.root, prefix)
}

// warnUndeclared says what was taken out of the header.
func (s *Score) warnUndeclared(prefixes []string) {
	if len(prefixes) > 0 {
		s.Warnings = append(s.Warnings, &Error{Code: notice.UndeclaredPrefix, Err: fmt.Errorf("%s", UndeclaredText(prefixes))})
	}
}

// UndeclaredText says in words that what has these prefixes was left out.
func UndeclaredText(prefixes []string) string {
	return "nothing in the file declares the prefix " + strings.Join(prefixes, ", ") + "; what has it was left out"
}
