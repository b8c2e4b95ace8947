package pdf

import (
	"cmp"
	"encoding/xml"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"deskpart/musicxml/engraving/display"
)

// Info is what a document says of itself.
type Info struct {
	Title string
	// Language of its texts as in BCP 47 ("en", "de"). Default: none is said.
	Language string
}

// producer names the program.
const producer = "deskpart"

// Writer writes a document page by page. It is used by one goroutine at a time.
type Writer struct {
	file      *file
	info      Info
	fonts     *fontWriter
	structure *structure
	pages     []reference
	tree      reference // of the pages
	bookmarks []bookmark
	written   map[*Sheet]written
	err       error
}

// written is what of a sheet stands in the file already.
type written struct {
	content reference
	alts    []reference
}

// New begins a document on out. Errors of writing are told by Close.
func New(out io.Writer, info Info) *Writer {
	f := newFile(out)
	return &Writer{file: f, info: info, fonts: &fontWriter{file: f}, structure: &structure{file: f, root: f.allot(), document: f.allot()}, tree: f.allot(), written: map[*Sheet]written{}}
}

// Section begins a part of the document: the pages that follow belong to it, and a
// bookmark leads to the first of them. A document without sections has no
// bookmarks.
func (w *Writer) Section(title string) {
	w.structure.section(title)
	w.bookmarks = append(w.bookmarks, bookmark{title: title, page: len(w.pages)})
}

// Page writes a page.
func (w *Writer) Page(p *display.Page) {
	s, err := Compile(p)
	if err != nil {
		w.err = cmp.Or(w.err, err)
		return
	}
	w.Sheet(s)
}

// Sheet writes a page that was compiled. What is printed several times stands in the
// file once.
func (w *Writer) Sheet(s *Sheet) {
	have, again := w.written[s]
	if !again {
		have = w.write(s)
		w.written[s] = have
	}
	page := w.file.allot()
	w.structure.page(page, s.marks, have.alts)
	w.file.put(page, dictionary{
		"Type": name("Page"), "Parent": w.tree.String(), "Contents": have.content.String(),
		"MediaBox":      fmt.Sprintf("[0 0 %s %s]", number(float64(s.width.Points()), 3), number(float64(s.height.Points()), 3)),
		"Resources":     dictionary{"Font": w.fonts.use(&s.used).String()}.String(),
		"StructParents": strconv.Itoa(len(w.pages)),
		"Tabs":          name("S"), // the order of the structure
	}.String())
	w.pages = append(w.pages, page)
}

// write writes what all prints of a sheet share.
func (w *Writer) write(s *Sheet) written {
	have := written{content: w.file.allot(), alts: make([]reference, len(s.marks))}
	w.file.stream(have.content, dictionary{}, s.content)
	for i, m := range s.marks {
		if m.alt != "" {
			have.alts[i] = w.file.add(textString(m.alt))
		}
	}
	return have
}

// Close writes what the pages refer to and ends the document; it returns the first
// error of all the writing. The underlying file is the caller's to close.
func (w *Writer) Close() error {
	if w.err != nil {
		return w.err
	}
	if err := w.fonts.finish(); err != nil {
		return err
	}
	f := w.file
	f.put(w.tree, dictionary{"Type": name("Pages"), "Count": strconv.Itoa(len(w.pages)), "Kids": array(w.pages)}.String())
	metadata := f.allot()
	f.plainStream(metadata, dictionary{"Type": name("Metadata"), "Subtype": name("XML")}, []byte(w.metadata()))
	catalogue := dictionary{
		"Type": name("Catalog"), "Pages": w.tree.String(), "Metadata": metadata.String(),
		"MarkInfo": "<</Marked true>>", "StructTreeRoot": w.structure.finish().String(),
		"ViewerPreferences": "<</DisplayDocTitle true>>",
	}
	if w.info.Language != "" {
		catalogue["Lang"] = textString(w.info.Language)
	}
	if outlines := w.outlines(); outlines != 0 {
		catalogue["Outlines"], catalogue["PageMode"] = outlines.String(), name("UseOutlines")
	}
	info := f.add(dictionary{"Title": textString(w.info.Title), "Producer": textString(producer)}.String())
	return f.end(f.add(catalogue.String()), info)
}

// metadata says title and language in XMP (14.3.2).
func (w *Writer) metadata() string {
	var language string
	if w.info.Language != "" {
		language = "<dc:language><rdf:Bag><rdf:li>" + escape(w.info.Language) + "</rdf:li></rdf:Bag></dc:language>"
	}
	return `<?xpacket begin="` + "\uFEFF" + `" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/"><dc:title><rdf:Alt><rdf:li xml:lang="x-default">` +
		escape(w.info.Title) + `</rdf:li></rdf:Alt></dc:title>` + language + `<pdf:Producer>` + producer + `</pdf:Producer></rdf:Description>
</rdf:RDF></x:xmpmeta>
<?xpacket end="r"?>`
}

func escape(text string) string {
	var out strings.Builder
	if err := xml.EscapeText(&out, []byte(text)); err != nil {
		return "" // a strings.Builder takes everything
	}
	return out.String()
}

// bookmark leads to a page.
type bookmark struct {
	title string
	page  int
}

// outlines writes the bookmarks (12.3.3); 0 where there are none.
func (w *Writer) outlines() reference {
	marks := slices.DeleteFunc(slices.Clone(w.bookmarks), func(b bookmark) bool { return b.page >= len(w.pages) })
	if len(marks) == 0 {
		return 0
	}
	f := w.file
	root := f.allot()
	refs := make([]reference, len(marks))
	for i := range refs {
		refs[i] = f.allot()
	}
	for i, b := range marks {
		d := dictionary{"Title": textString(b.title), "Parent": root.String(), "Dest": "[" + w.pages[b.page].String() + " /Fit]"}
		if i > 0 {
			d["Prev"] = refs[i-1].String()
		}
		if i+1 < len(refs) {
			d["Next"] = refs[i+1].String()
		}
		f.put(refs[i], d.String())
	}
	f.put(root, dictionary{"Type": name("Outlines"), "First": refs[0].String(), "Last": refs[len(refs)-1].String(), "Count": strconv.Itoa(len(refs))}.String())
	return root
}
