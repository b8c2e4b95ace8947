package engraving

import (
	"math"
	"strconv"
	"strings"
)

// ink collects SVG elements. Its coordinates are staff spaces.
type ink struct {
	out  strings.Builder
	used glyphSet
}

func newInk() *ink { return &ink{used: glyphSet{}} }

// number writes a length in drawing units (tenths of a staff space) with at most
// one decimal.
func number(spaces float64) string {
	return strconv.FormatFloat(math.Round(spaces*100)/10+0, 'f', -1, 64)
}

// numbers writes lengths separated by blanks.
func numbers(spaces ...float64) string {
	parts := make([]string, len(spaces))
	for i, s := range spaces {
		parts[i] = number(s)
	}
	return strings.Join(parts, " ")
}

// escape makes text safe inside XML.
var escape = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;").Replace

// clean drops the characters that XML cannot hold.
func clean(text string) string {
	return strings.Map(func(r rune) rune {
		if r < 0x20 && r != '\t' && r != '\n' || r == 0xFFFE || r == 0xFFFF {
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, ""))
}

func (k *ink) raw(s string) { k.out.WriteString(s) }

// glyph places a shape; class "" for none.
func (k *ink) glyph(s shape, x, y float64, class string) {
	k.used[s] = true
	k.raw(`<use href="#` + idPrefix + s.id() + `"`)
	if class != "" {
		k.raw(` class="` + escape(class) + `"`)
	}
	k.raw(` x="` + number(x) + `" y="` + number(y) + `"/>`)
}

func (k *ink) path(class, d string) {
	if d != "" {
		k.raw(`<path class="` + class + `" d="` + d + `"/>`)
	}
}

// text places a line of text; anchor is "start", "middle" or "end".
func (k *ink) text(class, anchor, text string, x, y float64) {
	k.raw(`<text class="` + class + `" x="` + number(x) + `" y="` + number(y) + `"`)
	if anchor != "start" {
		k.raw(` text-anchor="` + anchor + `"`)
	}
	k.raw(">" + escape(clean(text)) + "</text>")
}

func (k *ink) open(attributes string) { k.raw("<g" + attributes + ">") }
func (k *ink) close()                 { k.raw("</g>") }

// rect returns path data of a filled upright rectangle.
func rect(x1, y1, x2, y2 float64) string {
	return "M" + numbers(x1, y1) + "H" + number(x2) + "V" + number(y2) + "H" + number(x1) + "z"
}

// quad returns path data of a filled four-sided figure with upright sides.
func quad(x1, y1, x2, y2, thickness float64) string {
	return "M" + numbers(x1, y1) + "L" + numbers(x2, y2) + "v" + number(thickness) + "L" + numbers(x1, y1+thickness) + "z"
}

// line returns path data of a straight stroke.
func line(x1, y1, x2, y2 float64) string {
	switch {
	case x1 == x2:
		return "M" + numbers(x1, y1) + "V" + number(y2)
	case y1 == y2:
		return "M" + numbers(x1, y1) + "H" + number(x2)
	}
	return "M" + numbers(x1, y1) + "L" + numbers(x2, y2)
}

// bow returns path data of a filled curve, thin at its ends: from one end to the
// other with control points at height (negative is upwards) and back with less.
func bow(x1, y1, x2, y2, height, thickness float64) string {
	inset := min((x2-x1)*0.28, 3)
	if height < 0 {
		thickness = -thickness
	}
	curve := func(ax, ay, bx, by, h float64, in float64) string {
		return "C" + numbers(ax+in, ay+h, bx-in, by+h, bx, by)
	}
	return "M" + numbers(x1, y1) + curve(x1, y1, x2, y2, height+thickness/2, inset) +
		curve(x2, y2, x1, y1, height-thickness/2, -inset) + "z"
}
