package pdf

import (
	"crypto/sha256"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"golang.org/x/image/font/sfnt"

	"deskpart/musicxml/engraving/fonts"
)

// typeface is a font of the document while it is written: glyphs get their number
// (the character code, 9.7.4.2) when they are first used, and the font goes into
// the file last, cut down to them.
type typeface struct {
	resource string // its name in content streams
	base     string // PostScript name
	ref      reference
	style    style
	codes    map[string]int // by character or sign name
	texts    []string       // what a text tool reads for each code; code 0 is no character
	glyphs   []int          // of a text font: index in its file, by code
	signs    []string       // of the font of signs: names by code
}

// style is what a font descriptor says of a font's looks (9.8).
type style struct {
	italic, bold, symbolic bool
}

// textFaces describe the faces of package fonts.
var textFaces = map[fonts.Face]typeface{
	fonts.Regular:    {resource: "R", base: "DeskSerif-Regular"},
	fonts.Italic:     {resource: "I", base: "DeskSerif-Italic", style: style{italic: true}},
	fonts.Bold:       {resource: "B", base: "DeskSerif-Bold", style: style{bold: true}},
	fonts.BoldItalic: {resource: "C", base: "DeskSerif-BoldItalic", style: style{italic: true, bold: true}},
	fonts.Music:      {resource: "N", base: "NotoMusic-Regular", style: style{symbolic: true}},
}

// typefaces are the fonts of a document.
type typefaces struct {
	file  *file
	text  map[fonts.Face]*typeface
	sign  *typeface
	sfnts map[fonts.Face]*sfnt.Font
	inUse []*typeface // in the order of first use
	// missing are characters that no face has.
	missing map[rune]bool
	buffer  sfnt.Buffer
}

func newTypefaces(f *file) *typefaces {
	return &typefaces{file: f, text: map[fonts.Face]*typeface{}, sfnts: map[fonts.Face]*sfnt.Font{}, missing: map[rune]bool{}}
}

func (t *typefaces) begin(like typeface) *typeface {
	like.ref = t.file.allot()
	like.codes, like.texts, like.glyphs, like.signs = map[string]int{}, []string{""}, []int{0}, []string{""}
	t.inUse = append(t.inUse, &like)
	return &like
}

// codesOf returns the text as hexadecimal character codes of a face; characters
// that the face lacks are left out and remembered.
func (t *typefaces) codesOf(face fonts.Face, text string) (*typeface, string, error) {
	used := t.text[face]
	if used == nil {
		font, err := sfnt.Parse(face.Data())
		if err != nil {
			return nil, "", fmt.Errorf("font %s: %w", textFaces[face].base, err)
		}
		used = t.begin(textFaces[face])
		t.text[face], t.sfnts[face] = used, font
	}
	var out strings.Builder
	for _, r := range text {
		code, known := used.codes[string(r)]
		if !known {
			glyph, err := t.sfnts[face].GlyphIndex(&t.buffer, r)
			if err != nil || glyph == 0 {
				t.missing[r] = true
				continue
			}
			code = len(used.texts)
			used.codes[string(r)] = code
			used.texts, used.glyphs = append(used.texts, string(r)), append(used.glyphs, int(glyph))
		}
		fmt.Fprintf(&out, "%04X", code)
	}
	return used, out.String(), nil
}

// signCode returns a sign's character code.
func (t *typefaces) signCode(sign fonts.Sign) (*typeface, int) {
	if t.sign == nil {
		t.sign = t.begin(typeface{resource: "M", base: "DeskSigns", style: style{symbolic: true}})
	}
	code, known := t.sign.codes[sign.Name]
	if !known {
		code = len(t.sign.texts)
		t.sign.codes[sign.Name] = code
		t.sign.texts, t.sign.signs = append(t.sign.texts, sign.Text), append(t.sign.signs, sign.Name)
	}
	return t.sign, code
}

// finish writes every font that was used.
func (t *typefaces) finish() error {
	for face, used := range t.text {
		if err := used.checkFace(face); err != nil {
			return err
		}
	}
	for _, used := range t.inUse {
		o, err := t.outlinesOf(used)
		if err != nil {
			return fmt.Errorf("font %s: %w", used.base, err)
		}
		t.write(used, o)
	}
	return nil
}

// checkFace guards the range of two-byte character codes.
func (u *typeface) checkFace(face fonts.Face) error {
	if len(u.texts) > 0xFFFF {
		return fmt.Errorf("font %d: more than 65535 characters are used", face)
	}
	return nil
}

func (t *typefaces) outlinesOf(used *typeface) (*outlines, error) {
	if used == t.sign {
		return signOutlines(used.signs)
	}
	for face, f := range t.text {
		if f == used {
			all, err := readOutlines(face.Data())
			if err != nil {
				return nil, err
			}
			return all.cutDown(used.glyphs), nil
		}
	}
	return nil, errFont
}

// signOutlines makes the font of signs; its first glyph is none.
func signOutlines(names []string) (*outlines, error) {
	o := &outlines{unitsPerEm: signUnits, ascent: signUnits / 2, descent: -signUnits / 2}
	for _, name := range names {
		sign, _ := fonts.SignOf(name)
		data, err := signGlyph(sign)
		if err != nil {
			return nil, err
		}
		o.glyphs = append(o.glyphs, data)
		o.advances = append(o.advances, max(0, sign.Right))
		o.leftBearings = append(o.leftBearings, sign.Left)
		o.box = [4]int{min(o.box[0], sign.Left), min(o.box[1], -sign.Bottom), max(o.box[2], sign.Right), max(o.box[3], -sign.Top)}
	}
	return o, nil
}

// write puts a composite font into the file (9.7.6) with its descriptor, its
// widths and the Unicode of its codes.
func (t *typefaces) write(used *typeface, o *outlines) {
	f := t.file
	data := o.fontFile()
	fontFile, descriptor, descendant, unicode := f.allot(), f.allot(), f.allot(), f.allot()
	base := name(tag(data) + "+" + used.base)
	f.stream(fontFile, dictionary{"Length1": strconv.Itoa(len(data))}, data)
	em := func(units int) string { return strconv.Itoa(units * 1000 / o.unitsPerEm) }
	flags, angle, weight := 32, 0, 80 // nonsymbolic (9.8.2, table 123)
	if used.style.symbolic {
		flags = 4
	}
	if used.style.italic {
		flags, angle = flags|64, -16
	}
	if used.style.bold {
		weight = 140
	}
	f.put(descriptor, dictionary{
		"Type": name("FontDescriptor"), "FontName": base, "Flags": strconv.Itoa(flags),
		"FontBBox":    "[" + em(o.box[0]) + " " + em(o.box[1]) + " " + em(o.box[2]) + " " + em(o.box[3]) + "]",
		"ItalicAngle": strconv.Itoa(angle), "Ascent": em(o.ascent), "Descent": em(o.descent), "CapHeight": em(o.ascent),
		"StemV": strconv.Itoa(weight), "FontFile2": fontFile.String(),
	}.String())
	widths := make([]string, len(used.texts))
	for i := range widths {
		widths[i] = number(float64(o.advances[i])*1000/float64(o.unitsPerEm), 1)
	}
	f.put(descendant, dictionary{
		"Type": name("Font"), "Subtype": name("CIDFontType2"), "BaseFont": base,
		"CIDSystemInfo":  "<</Ordering (Identity) /Registry (Adobe) /Supplement 0>>",
		"FontDescriptor": descriptor.String(), "CIDToGIDMap": name("Identity"), "DW": "0",
		"W": "[0 [" + strings.Join(widths, " ") + "]]",
	}.String())
	f.stream(unicode, dictionary{}, []byte(unicodeMap(used.texts)))
	f.put(used.ref, dictionary{
		"Type": name("Font"), "Subtype": name("Type0"), "BaseFont": base, "Encoding": name("Identity-H"),
		"DescendantFonts": array([]reference{descendant}), "ToUnicode": unicode.String(),
	}.String())
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
func unicodeMap(texts []string) string {
	var out strings.Builder
	out.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def\n" +
		"/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n")
	code := 1
	for rows := range slices.Chunk(texts[1:], 100) { // at most a hundred rows at a time
		fmt.Fprintf(&out, "%d beginbfchar\n", len(rows))
		for _, text := range rows {
			fmt.Fprintf(&out, "<%04X> <%s>\n", code, utf16Hex(text))
			code++
		}
		out.WriteString("endbfchar\n")
	}
	out.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend")
	return out.String()
}
