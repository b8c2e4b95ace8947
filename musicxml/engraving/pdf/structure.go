package pdf

import (
	"fmt"
	"strconv"
	"strings"

	"deskpart/musicxml/engraving/display"
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
	marked   []reference // of the page that is being written
	pageRef  reference
}

type section struct {
	ref   reference
	title string
	kids  []reference
}

func newStructure(f *file) *structure {
	return &structure{file: f, root: f.allot(), document: f.allot()}
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

// page begins a page.
func (s *structure) page(ref reference) {
	s.endPage()
	s.pageRef = ref
}

func (s *structure) endPage() {
	if s.pageRef != 0 {
		s.parents = append(s.parents, array(s.marked))
	}
	s.marked = nil
}

// purposes are the standard structure types (14.8.4) of blocks.
var purposes = map[display.Purpose]string{display.Music: "Figure", display.Title: "H1", display.Heading: "H2", display.Paragraph: "P"}

// begin opens a block's marked content (14.6) and writes its structure element.
func (s *structure) begin(c *content, b *display.Block, height display.Millimetres) {
	tag, known := purposes[b.Purpose]
	if !known {
		c.WriteString("/Artifact <</Type /Pagination>> BDC\n")
		return
	}
	mark := len(s.marked)
	fmt.Fprintf(c, "/%s <</MCID %d>> BDC\n", tag, mark)
	d := dictionary{"Type": name("StructElem"), "S": name(tag), "P": s.document.String(), "Pg": s.pageRef.String(), "K": strconv.Itoa(mark)}
	if s.current != nil {
		d["P"] = s.current.ref.String()
	}
	if b.System != nil {
		d["Alt"] = textString(alternative(b.System))
		d["A"] = layout(b, height)
	}
	ref := s.file.add(d.String())
	s.marked = append(s.marked, ref)
	if s.current != nil {
		s.current.kids = append(s.current.kids, ref)
	} else {
		s.top = append(s.top, ref)
	}
}

// alternative is what is said in place of a system: its label, then staff by staff.
func alternative(system *display.System) string {
	texts := []string{system.Label}
	for _, staff := range system.Staves {
		texts = append(texts, staff.Title, staff.Text)
	}
	said := texts[:0]
	for _, t := range texts {
		if t = strings.TrimSpace(t); t != "" {
			said = append(said, strings.TrimSuffix(t, ".")+".")
		}
	}
	return strings.Join(said, " ")
}

// layout says where a figure stands (14.8.5.4).
func layout(b *display.Block, height display.Millimetres) string {
	left, top := b.Left.Points(), (height - b.Top).Points()
	right := left + b.System.Width.On(b.Space).Points()
	bottom := top - b.System.Height.On(b.Space).Points()
	return fmt.Sprintf("<</O /Layout /Placement /Block /BBox [%s %s %s %s]>>",
		number(float64(left), 2), number(float64(bottom), 2), number(float64(right), 2), number(float64(top), 2))
}

// finish writes the tree and returns its root.
func (s *structure) finish() reference {
	s.endPage()
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
