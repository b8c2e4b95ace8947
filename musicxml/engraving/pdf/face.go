package pdf

import (
	"crypto/sha256"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"sync"

	"golang.org/x/image/font/sfnt"

	"deskpart/musicxml/engraving/fonts"
)

// The fonts of a document: the faces of package fonts, and that of the music signs.
// A character's code (9.7.4.2) is the same in every document, so that pages are
// written without knowing the document that they are to stand in.
const (
	signFace = fonts.Music + 1
	faces    = int(signFace) + 1
)

// codeSet are the codes of a font that are used.
type codeSet map[uint16]bool

// style is what a font descriptor says of a font's looks (9.8).
type style struct {
	italic, bold, symbolic bool
}

// typefaces describe the fonts: their names in content streams and for PostScript.
var typefaces = [faces]struct {
	resource, base string
	style          style
}{
	fonts.Regular:    {"R", "DeskSerif-Regular", style{}},
	fonts.Italic:     {"I", "DeskSerif-Italic", style{italic: true}},
	fonts.Bold:       {"B", "DeskSerif-Bold", style{bold: true}},
	fonts.BoldItalic: {"C", "DeskSerif-BoldItalic", style{italic: true, bold: true}},
	fonts.Music:      {"N", "NotoMusic-Regular", style{symbolic: true}},
	signFace:         {"M", "DeskSigns", style{symbolic: true}},
}

// glyphTable is a font with a code for each of its characters. Code 0 is no
// character.
type glyphTable struct {
	*outlines
	codes map[string]uint16 // by character, or by name of a sign
	// By code: what a text tool reads, and the place of the glyph in the outlines.
	texts  []string
	glyphs []int
}

// tables are the fonts, each read when it is first used.
var tables = func() (t [faces]func() (*glyphTable, error)) {
	for face := range t[:signFace] {
		t[face] = sync.OnceValues(func() (*glyphTable, error) { return readFace(fonts.Face(face)) })
	}
	t[signFace] = sync.OnceValues(readSigns)
	return t
}()

func tableOf(face fonts.Face) (*glyphTable, error) {
	table, err := tables[face]()
	if err != nil {
		return nil, fmt.Errorf("font %s: %w", typefaces[face].base, err)
	}
	return table, nil
}

// readFace gives the characters of a text face their codes, in the order of their
// Unicode.
func readFace(face fonts.Face) (*glyphTable, error) {
	data := face.Data()
	font, err := sfnt.Parse(data)
	if err != nil {
		return nil, err
	}
	all, err := readOutlines(data)
	if err != nil {
		return nil, err
	}
	t := newTable(all)
	var buffer sfnt.Buffer
	for _, r := range face.Characters() {
		if glyph, err := font.GlyphIndex(&buffer, r); err == nil && glyph != 0 {
			t.add(string(r), string(r), int(glyph))
		}
	}
	return t, nil
}

// readSigns gives the music signs their codes, in the order of their names.
func readSigns() (*glyphTable, error) {
	t := newTable(&outlines{unitsPerEm: signUnits, ascent: signUnits / 2, descent: -signUnits / 2})
	o := t.outlines
	o.add(nil, 0, 0) // code 0
	for _, name := range fonts.SignNames() {
		sign, _ := fonts.SignOf(name)
		data, err := signGlyph(sign)
		if err != nil {
			return nil, err
		}
		t.add(name, sign.Text, len(o.glyphs))
		o.add(data, max(0, sign.Right), sign.Left)
		o.box = [4]int{min(o.box[0], sign.Left), min(o.box[1], -sign.Bottom), max(o.box[2], sign.Right), max(o.box[3], -sign.Top)}
	}
	return t, nil
}

func newTable(o *outlines) *glyphTable {
	return &glyphTable{outlines: o, codes: map[string]uint16{}, texts: []string{""}, glyphs: []int{0}}
}

func (t *glyphTable) add(key, text string, glyph int) {
	t.codes[key] = uint16(len(t.texts))
	t.texts, t.glyphs = append(t.texts, text), append(t.glyphs, glyph)
}

// fontWriter writes the fonts that the pages of a document use, each cut down to the
// characters that are used.
type fontWriter struct {
	file *file
	refs [faces]reference // 0 for those not used
	used [faces]codeSet
}

// use notes down what a page uses and returns its fonts by their names there.
func (w *fontWriter) use(used *[faces]codeSet) dictionary {
	resources := dictionary{}
	for face, codes := range used {
		if len(codes) == 0 {
			continue
		}
		if w.refs[face] == 0 {
			w.refs[face], w.used[face] = w.file.allot(), codeSet{}
		}
		maps.Copy(w.used[face], codes)
		resources[typefaces[face].resource] = w.refs[face].String()
	}
	return resources
}

// finish writes every font that was used.
func (w *fontWriter) finish() error {
	for face, ref := range w.refs {
		if ref == 0 {
			continue
		}
		table, err := tableOf(fonts.Face(face))
		if err != nil {
			return err
		}
		w.write(fonts.Face(face), table)
	}
	return nil
}

// write puts a composite font into the file (9.7.6) with its descriptor, its
// widths and the Unicode of its codes.
func (w *fontWriter) write(face fonts.Face, t *glyphTable) {
	f, style := w.file, typefaces[face].style
	codes := slices.Sorted(maps.Keys(w.used[face]))
	o := t.cutDown(codes)
	data := o.fontFile()
	fontFile, descriptor, descendant, unicode := f.allot(), f.allot(), f.allot(), f.allot()
	base := name(tag(data) + "+" + typefaces[face].base)
	f.stream(fontFile, dictionary{"Length1": strconv.Itoa(len(data))}, compress(data))
	em := func(units int) string { return strconv.Itoa(units * 1000 / o.unitsPerEm) }
	flags, angle, weight := 32, 0, 80 // nonsymbolic (9.8.2, table 123)
	if style.symbolic {
		flags = 4
	}
	if style.italic {
		flags, angle = flags|64, -16
	}
	if style.bold {
		weight = 140
	}
	f.put(descriptor, dictionary{
		"Type": name("FontDescriptor"), "FontName": base, "Flags": strconv.Itoa(flags),
		"FontBBox":    "[" + em(o.box[0]) + " " + em(o.box[1]) + " " + em(o.box[2]) + " " + em(o.box[3]) + "]",
		"ItalicAngle": strconv.Itoa(angle), "Ascent": em(o.ascent), "Descent": em(o.descent), "CapHeight": em(o.ascent),
		"StemV": strconv.Itoa(weight), "FontFile2": fontFile.String(),
	}.String())
	f.put(descendant, dictionary{
		"Type": name("Font"), "Subtype": name("CIDFontType2"), "BaseFont": base,
		"CIDSystemInfo":  "<</Ordering (Identity) /Registry (Adobe) /Supplement 0>>",
		"FontDescriptor": descriptor.String(), "CIDToGIDMap": name("Identity"), "DW": "0",
		"W": "[" + o.widths(codes) + "]",
	}.String())
	f.stream(unicode, dictionary{}, compress([]byte(unicodeMap(codes, t.texts))))
	f.put(w.refs[face], dictionary{
		"Type": name("Font"), "Subtype": name("Type0"), "BaseFont": base, "Encoding": name("Identity-H"),
		"DescendantFonts": array([]reference{descendant}), "ToUnicode": unicode.String(),
	}.String())
}

// widths lists the advances of codes in thousandths of the em, each run of codes
// behind its first (9.7.4.3).
func (o *outlines) widths(codes []uint16) string {
	var out strings.Builder
	for i, code := range codes {
		if i == 0 || codes[i-1]+1 != code {
			if i > 0 {
				out.WriteString("] ")
			}
			fmt.Fprintf(&out, "%d [", code)
		} else {
			out.WriteByte(' ')
		}
		out.WriteString(number(float64(o.advances[code])*1000/float64(o.unitsPerEm), 1))
	}
	return out.String() + "]"
}

// tag is the prefix of six capitals that marks a font cut down (9.6.4), taken from
// its contents.
func tag(data []byte) string {
	sum := sha256.Sum256(data)
	letters := make([]byte, 6)
	for i := range letters {
		letters[i] = 'A' + sum[i]%26
	}
	return string(letters)
}

// unicodeMap says what text each code stands for (9.10.3).
func unicodeMap(codes []uint16, texts []string) string {
	var out strings.Builder
	out.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def\n" +
		"/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n")
	for rows := range slices.Chunk(codes, 100) { // at most a hundred rows at a time
		fmt.Fprintf(&out, "%d beginbfchar\n", len(rows))
		for _, code := range rows {
			fmt.Fprintf(&out, "<%04X> <%s>\n", code, utf16Hex(texts[code]))
		}
		out.WriteString("endbfchar\n")
	}
	out.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend")
	return out.String()
}
