package engraving

import (
	_ "embed"
	"encoding/csv"
	"sort"
	"strconv"
	"strings"
	"sync"
)

// glyphData holds one glyph a row: name, source, the box of its ink (left, top,
// right, bottom) and its outline as SVG path data, all in hundredths of a staff
// space with y downwards. glyphgen writes it.
//
//go:embed glyphs.csv
var glyphData string

// glyph is an outline with its box in staff spaces.
type glyph struct {
	left, top, right, bottom float64
	path                     string
}

func (g glyph) width() float64 { return g.right - g.left }

// smallScale is the size of grace notes and cue notes against full size.
const smallScale = 0.7

// smallMark ends the id of a glyph at small size.
const smallMark = "-s"

// glyphs returns the table of glyphs by name, read once.
var glyphs = sync.OnceValue(func() map[string]glyph {
	rows, err := csv.NewReader(strings.NewReader(glyphData)).ReadAll()
	table := map[string]glyph{}
	if err != nil {
		return table
	}
	for _, row := range rows[1:] {
		var box [4]float64
		for i := range box {
			n, _ := strconv.Atoi(row[2+i])
			box[i] = float64(n) / 100
		}
		table[row[0]] = glyph{box[0], box[1], box[2], box[3], row[6]}
	}
	return table
})

// shape is a glyph at a size: what a <use> refers to.
type shape struct {
	name  string
	small bool
}

func (s shape) id() string {
	if s.small {
		return s.name + smallMark
	}
	return s.name
}

func (s shape) scale() float64 {
	if s.small {
		return smallScale
	}
	return 1
}

// box returns the ink's box around the glyph's own place.
func (s shape) box() glyph {
	g, k := glyphs()[s.name], s.scale()
	return glyph{g.left * k, g.top * k, g.right * k, g.bottom * k, g.path}
}

func (s shape) width() float64 { return s.box().width() }

// idPrefix begins every glyph's id, so that it clashes with no other id of a page.
const idPrefix = "dp-"

// glyphSet names the shapes that a drawing uses.
type glyphSet map[shape]bool

func (set glyphSet) add(other glyphSet) {
	for s := range other {
		set[s] = true
	}
}

// definitions writes the outlines of the set, in order of their ids.
func (set glyphSet) definitions() string {
	shapes := make([]shape, 0, len(set))
	for s := range set {
		shapes = append(shapes, s)
	}
	sort.Slice(shapes, func(i, j int) bool { return shapes[i].id() < shapes[j].id() })
	var out strings.Builder
	out.WriteString("<defs>")
	for _, s := range shapes {
		scale := strconv.FormatFloat(0.1*s.scale(), 'g', 3, 64)
		out.WriteString(`<path id="` + idPrefix + s.id() + `" transform="scale(` + scale + `)" d="` + glyphs()[s.name].path + `"/>`)
	}
	out.WriteString("</defs>")
	return out.String()
}
