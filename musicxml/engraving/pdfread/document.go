package pdfread

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"unicode/utf16"

	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// typeface is a font as a page uses it.
type typeface struct {
	name   string
	texts  map[int]string  // Unicode of each code (ISO 32000-1, 9.10.3)
	widths map[int]float64 // in ems
}

// document is a PDF that was opened.
type document struct {
	*model.Context
	fonts map[types.IndirectRef]*typeface
}

func open(data []byte) (*document, error) {
	context, err := api.ReadContext(bytes.NewReader(data), model.NewDefaultConfiguration())
	if err != nil {
		return nil, err
	}
	return &document{context, map[types.IndirectRef]*typeface{}}, context.EnsurePageCount()
}

// page decodes a page, counted from 1, into what stands on it.
func (d *document) page(number int) ([]block, error) {
	dict, _, _, err := d.PageDict(number, false)
	if err != nil {
		return nil, err
	}
	content, err := d.stream(dict["Contents"])
	if err != nil {
		return nil, err
	}
	fonts, err := d.pageFonts(dict)
	if err != nil {
		return nil, err
	}
	return (&interpreter{fonts: fonts}).run(content)
}

func (d *document) stream(o types.Object) ([]byte, error) {
	stream, _, err := d.DereferenceStreamDict(o)
	if err != nil {
		return nil, err
	}
	err = stream.Decode()
	return stream.Content, err
}

func (d *document) pageFonts(page types.Dict) (map[string]*typeface, error) {
	resources, err := d.DereferenceDict(page["Resources"])
	if err != nil {
		return nil, err
	}
	list, err := d.DereferenceDict(resources["Font"])
	if err != nil {
		return nil, err
	}
	fonts := map[string]*typeface{}
	for name, o := range list {
		ref, ok := o.(types.IndirectRef)
		if !ok {
			return nil, fmt.Errorf("font %s stands in the page itself", name)
		}
		if d.fonts[ref] == nil {
			if d.fonts[ref], err = d.font(ref); err != nil {
				return nil, fmt.Errorf("font %s: %w", name, err)
			}
		}
		fonts[name] = d.fonts[ref]
	}
	return fonts, nil
}

var (
	mapRow  = regexp.MustCompile(`<([0-9A-F]{4})> <([0-9A-F]+)>`)
	plainOf = regexp.MustCompile(`^[A-Z]{6}\+`)
)

// font reads a composite font's Unicode and widths.
func (d *document) font(ref types.IndirectRef) (*typeface, error) {
	dict, err := d.DereferenceDict(ref)
	if err != nil {
		return nil, err
	}
	f := &typeface{name: plainOf.ReplaceAllString(string(dict["BaseFont"].(types.Name)), ""), texts: map[int]string{}, widths: map[int]float64{}}
	content, err := d.stream(dict["ToUnicode"])
	if err != nil {
		return nil, err
	}
	_, rows, _ := bytes.Cut(content, []byte("endcodespacerange"))
	for _, row := range mapRow.FindAllSubmatch(rows, -1) {
		f.texts[hex(row[1])] = unicodeOf(row[2])
	}
	descendants, err := d.DereferenceArray(dict["DescendantFonts"])
	if err != nil {
		return nil, err
	}
	descendant, err := d.DereferenceDict(descendants[0])
	if err != nil {
		return nil, err
	}
	return f, d.readWidths(f, descendant["W"])
}

// readWidths reads runs of widths, each behind its first code (9.7.4.3).
func (d *document) readWidths(f *typeface, o types.Object) error {
	runs, err := d.DereferenceArray(o)
	if err != nil {
		return err
	}
	for i := 0; i+1 < len(runs); i += 2 {
		code := runs[i].(types.Integer).Value()
		run, err := d.DereferenceArray(runs[i+1])
		if err != nil {
			return err
		}
		for k, w := range run {
			n, err := d.DereferenceNumber(w)
			if err != nil {
				return err
			}
			f.widths[code+k] = n / 1000
		}
	}
	return nil
}

func hex(digits []byte) int {
	n, _ := strconv.ParseUint(string(digits), 16, 16)
	return int(n)
}

// unicodeOf decodes hexadecimal UTF-16.
func unicodeOf(digits []byte) string {
	var units []uint16
	for i := 0; i+4 <= len(digits); i += 4 {
		units = append(units, uint16(hex(digits[i:i+4])))
	}
	return string(utf16.Decode(units))
}
