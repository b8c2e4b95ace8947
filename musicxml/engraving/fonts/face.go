package fonts

import (
	"embed"
	"maps"
	"slices"
	"sync"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Face is a cut of the text family, or the music font for signs among letters.
type Face uint8

// The faces.
const (
	Regular Face = iota
	Italic
	Bold
	BoldItalic
	Music
)

//go:embed data/*.ttf
var files embed.FS

var fileNames = [...]string{Regular: "DeskSerif-Regular", Italic: "DeskSerif-Italic", Bold: "DeskSerif-Bold",
	BoldItalic: "DeskSerif-BoldItalic", Music: "NotoMusic-Regular"}

// Data returns the face's TrueType file, the caller's own.
func (f Face) Data() []byte {
	data, err := files.ReadFile("data/" + fileNames[f] + ".ttf")
	if err != nil {
		return nil // the files are embedded; TestFaces reads them all
	}
	return data
}

// advances has, for each face, the width of every character in ems, read once.
var advances = sync.OnceValue(func() (tables [len(fileNames)]map[rune]float64) {
	for f := range tables {
		tables[f] = readAdvances(Face(f).Data())
	}
	return tables
})

// blocks bounds the characters that the faces were cut down to.
var blocks = [][2]rune{{0x20, 0x52F}, {0x1E00, 0x2193}, {0x2212, 0x2212}, {0x2669, 0x266F}, {0xFB01, 0xFB02}, {0x1D100, 0x1D1FF}}

func readAdvances(data []byte) map[rune]float64 {
	table := map[rune]float64{}
	font, err := sfnt.Parse(data)
	if err != nil {
		return table
	}
	var buffer sfnt.Buffer
	em := fixed.Int26_6(font.UnitsPerEm())
	for _, block := range blocks {
		for r := block[0]; r <= block[1]; r++ {
			index, err := font.GlyphIndex(&buffer, r)
			if err != nil || index == 0 {
				continue
			}
			if advance, err := font.GlyphAdvance(&buffer, index, em, 0); err == nil {
				table[r] = float64(advance) / float64(em)
			}
		}
	}
	return table
}

// Has reports whether the face has the character.
func (f Face) Has(r rune) bool {
	_, known := advances()[f][r]
	return known
}

// Characters lists what the face has, in the order of Unicode.
func (f Face) Characters() []rune { return slices.Sorted(maps.Keys(advances()[f])) }

// Run is a stretch of text in one face.
type Run struct {
	Face Face
	Text string
}

// Runs cuts a text into stretches of one face each: musical signs that the text
// face lacks come from the music font. What no face has stays with the text
// face, see Missing.
func (f Face) Runs(text string) []Run {
	var runs []Run
	from := 0
	now := f
	for i, r := range text {
		face := f
		if !f.Has(r) && Music.Has(r) {
			face = Music
		}
		if face != now && i > from {
			runs = append(runs, Run{now, text[from:i]})
			from = i
		}
		now = face
	}
	if from < len(text) {
		runs = append(runs, Run{now, text[from:]})
	}
	return runs
}

// missingWidth is the width in ems that is kept for a character that no face has.
const missingWidth = 1.0

// Width is how wide a text is, in ems: the sum of the characters' widths. Writers
// set them without kerning.
func (f Face) Width(text string) float64 {
	tables := advances()
	own, music := tables[f], tables[Music]
	width := 0.0
	for _, r := range text {
		w, known := own[r]
		if !known {
			if w, known = music[r]; !known {
				w = missingWidth
			}
		}
		width += w
	}
	return width
}

// Missing lists the characters of a text that neither the face nor the music font
// has, each once, in order.
func (f Face) Missing(text string) []rune {
	var missing []rune
	seen := map[rune]bool{}
	for _, r := range text {
		if !f.Has(r) && !Music.Has(r) && !seen[r] {
			seen[r] = true
			missing = append(missing, r)
		}
	}
	return missing
}
