package pdf

import (
	"fmt"
	"strconv"
	"strings"
)

// structure is the logical structure of the document (14.7): a document of
// sections of headings, paragraphs and figures, each of which knows the piece of a
// page that it stands on.
type structure struct {
	file     *file
	root     reference // the tree's root
	document reference
	top      []reference // what the document holds
	current  *section    // nil before the first
	parents  []string    // for each page, the elements of its marked pieces in order
}

type section struct {
	ref   reference
	title string
	kids  []reference
}

// section begins a section.
func (s *structure) section(title string) {
	s.endSection()
	s.current = &section{ref: s.file.allot(), title: title}
}

func (s *structure) endSection() {
	if s.current == nil {
		return
	}
	s.file.put(s.current.ref, dictionary{"Type": name("StructElem"), "S": name("Sect"), "T": textString(s.current.title),
		"P": s.document.String(), "K": array(s.current.kids)}.String())
	s.top = append(s.top, s.current.ref)
	s.current = nil
}

// page writes the elements of a page's marked pieces; alts are the objects of their
// text alternatives, 0 for none.
func (s *structure) page(page reference, marks []mark, alts []reference) {
	elements := make([]reference, len(marks))
	for i, m := range marks {
		d := dictionary{"Type": name("StructElem"), "S": name(m.tag), "P": s.document.String(), "Pg": page.String(), "K": strconv.Itoa(i)}
		if s.current != nil {
			d["P"] = s.current.ref.String()
		}
		if m.box != "" {
			d["A"] = m.box
		}
		if alts[i] != 0 {
			d["Alt"] = alts[i].String()
		}
		elements[i] = s.file.add(d.String())
	}
	if s.current != nil {
		s.current.kids = append(s.current.kids, elements...)
	} else {
		s.top = append(s.top, elements...)
	}
	s.parents = append(s.parents, array(elements))
}

// finish writes the tree and returns its root.
func (s *structure) finish() reference {
	s.endSection()
	s.file.put(s.document, dictionary{"Type": name("StructElem"), "S": name("Document"), "P": s.root.String(), "K": array(s.top)}.String())
	var pages strings.Builder
	for i, elements := range s.parents {
		fmt.Fprintf(&pages, "%d %s ", i, elements)
	}
	s.file.put(s.root, dictionary{"Type": name("StructTreeRoot"), "K": s.document.String(),
		"ParentTree": "<</Nums [" + strings.TrimSpace(pages.String()) + "]>>", "ParentTreeNextKey": strconv.Itoa(len(s.parents))}.String())
	return s.root
}
