package pdf

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"sync"

	"deskpart/musicxml/engraving/display"
)

// Sheet is a page as documents have it, written once for all documents that it is
// to stand in, and as often as it is to stand there.
type Sheet struct {
	width, height display.Millimetres
	content       []byte // compressed
	used          [faces]codeSet
	marks         []mark
	missing       []rune
}

// mark is a marked piece of a page (14.6) and what its structure element says.
type mark struct {
	tag string
	alt string // text alternative of a figure
	box string // where a figure stands
}

// Compile writes a page. It fails only where a font cannot be read. It may be called
// by several goroutines at once.
func Compile(p *display.Page) (*Sheet, error) {
	c := &content{missing: map[rune]bool{}}
	s := &Sheet{width: p.Width, height: p.Height}
	for i := range p.Blocks {
		b := &p.Blocks[i]
		s.begin(c, b)
		c.begin(b, p.Height)
		b.Walk(c.item)
		c.end()
		c.WriteString("EMC\n")
	}
	if c.err != nil {
		return nil, c.err
	}
	s.content, s.used, s.missing = compress(c.Bytes()), c.used, slices.Sorted(maps.Keys(c.missing))
	return s, nil
}

// Missing lists the characters of the page that no font has and that were left out,
// in the order of their code.
func (s *Sheet) Missing() []rune { return s.missing }

// packing is the level of compression: half the time of the usual one for four
// hundredths more.
const packing = 4

// packers compress, one at a time: each takes most of a megabyte.
var packers = sync.Pool{New: func() any {
	z, _ := zlib.NewWriterLevel(nil, packing) // fails for other levels than there are
	return z
}}

func compress(data []byte) []byte {
	packed := bytes.NewBuffer(make([]byte, 0, len(data)/3))
	z := packers.Get().(*zlib.Writer)
	z.Reset(packed)
	z.Write(data)
	z.Close() // into memory: neither fails
	packers.Put(z)
	return packed.Bytes()
}

// purposes are the standard structure types (14.8.4) of blocks.
var purposes = map[display.Purpose]string{display.Music: "Figure", display.Title: "H1", display.Heading: "H2", display.Paragraph: "P"}

// begin opens a block's marked content (14.6).
func (s *Sheet) begin(c *content, b *display.Block) {
	tag, known := purposes[b.Purpose]
	if !known {
		c.WriteString("/Artifact <</Type /Pagination>> BDC\n")
		return
	}
	c.WriteString("/" + tag + " <</MCID " + strconv.Itoa(len(s.marks)) + ">> BDC\n")
	m := mark{tag: tag}
	if b.System != nil {
		m.alt, m.box = alternative(b.System), layout(b, s.height)
	}
	s.marks = append(s.marks, m)
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
