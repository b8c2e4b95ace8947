package main

import (
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// outline is a path in hundredths of a staff space, y downwards.
type outline []segment

// segment is one drawing step: 'M' and 'L' have one point, 'Q' two, 'Z' none.
type segment struct {
	op     byte
	points []point
}

type point struct{ x, y int }

type box struct{ left, top, right, bottom int }

func (o *outline) add(op byte, points ...point) {
	*o = append(*o, segment{op, points})
}

func (o outline) shift(dx int) {
	for _, s := range o {
		for i := range s.points {
			s.points[i].x += dx
		}
	}
}

// box bounds all points; control points of the fonts lie at the extremes.
func (o outline) box() box {
	b := box{math.MaxInt32, math.MaxInt32, math.MinInt32, math.MinInt32}
	for _, s := range o {
		for _, p := range s.points {
			b.left, b.right = min(b.left, p.x), max(b.right, p.x)
			b.top, b.bottom = min(b.top, p.y), max(b.bottom, p.y)
		}
	}
	return b
}

// String writes SVG path data with relative whole numbers, the shortest plain form.
func (o outline) String() string {
	var out strings.Builder
	var at, start point
	for _, s := range o {
		switch {
		case s.op == 'Z':
			out.WriteByte('z')
			at = start
			continue
		case s.op == 'L' && s.points[0].y == at.y:
			fmt.Fprintf(&out, "h%d", s.points[0].x-at.x)
		case s.op == 'L' && s.points[0].x == at.x:
			fmt.Fprintf(&out, "v%d", s.points[0].y-at.y)
		default:
			out.WriteByte(s.op + 'a' - 'A')
			var numbers []string
			for _, p := range s.points {
				numbers = append(numbers, strconv.Itoa(p.x-at.x), strconv.Itoa(p.y-at.y))
			}
			out.WriteString(strings.ReplaceAll(strings.Join(numbers, " "), " -", "-"))
		}
		at = s.points[len(s.points)-1]
		if s.op == 'M' {
			start = at
		}
	}
	return out.String()
}

// face is an open font. Its units are those of the file (1000 an em in both).
type face struct {
	font   *sfnt.Font
	buffer sfnt.Buffer
}

func openFaces(paths map[string]string) (map[string]*face, error) {
	faces := map[string]*face{}
	for name, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		f, err := sfnt.Parse(data)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
		faces[name] = &face{font: f}
	}
	return faces, nil
}

// load returns the glyph's segments in font units with y downwards.
func (f *face) load(r rune) (sfnt.Segments, error) {
	index, err := f.font.GlyphIndex(&f.buffer, r)
	if err != nil {
		return nil, err
	}
	if index == 0 {
		return nil, fmt.Errorf("the font has no U+%04X", r)
	}
	// One unit a pixel at a size of one em, so that coordinates stay whole.
	size := fixed.Int26_6(f.font.UnitsPerEm())
	return f.font.LoadGlyph(&f.buffer, index, size, &sfnt.LoadGlyphOptions{})
}
