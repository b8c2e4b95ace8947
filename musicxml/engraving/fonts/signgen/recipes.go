package main

import (
	"fmt"
	"slices"
	"strings"

	"golang.org/x/image/font/sfnt"
)

// The two fonts, as named in a recipe.
const (
	music = "music"
	serif = "serif"
)

// musicScale turns font units into hundredths of a staff space: in the music
// font the staff lines (U+1D11A) are 244 units apart.
const musicScale = 100.0 / 244

// numeralScale makes numerals of 714 units just under two staff spaces tall.
const numeralScale = 194.0 / 714

// recipe says how a glyph is put together. Its x origin is the left edge of the
// ink unless keepX, where the parts' own origins hold.
type recipe struct {
	name  string
	parts []part
	keepX bool
}

// part is a symbol of a font, or a polygon where points is set.
type part struct {
	font   string
	symbol rune
	// anchor is the height in font units that becomes y = 0.
	anchor float64
	// sx and sy stretch; negative values mirror. dx and dy move afterwards, in
	// hundredths of a staff space, y downwards.
	sx, sy, dx, dy float64
	points         []point
	// curved points are in turn on the line and the control points between.
	curved bool
}

func (r recipe) source() string {
	var names []string
	for _, p := range r.parts {
		if p.points != nil {
			names = append(names, "drawn")
		} else {
			names = append(names, fmt.Sprintf("%s U+%04X", p.font, p.symbol))
		}
	}
	slices.Sort(names)
	return strings.Join(slices.Compact(names), " + ")
}

func (p part) add(o *outline, faces map[string]*face) error {
	switch {
	case p.curved:
		addCurve(o, p.points)
		return nil
	case p.points != nil:
		addPolygon(o, p.points)
		return nil
	}
	segments, err := faces[p.font].load(p.symbol)
	if err != nil {
		return err
	}
	p.addSegments(o, segments)
	return nil
}

func addPolygon(o *outline, points []point) {
	o.add('M', points[0])
	for _, p := range points[1:] {
		o.add('L', p)
	}
	o.add('Z')
}

// addCurve adds a closed line of quadratic curves.
func addCurve(o *outline, points []point) {
	o.add('M', points[0])
	for i := 1; i < len(points); i += 2 {
		o.add('Q', points[i], points[(i+1)%len(points)])
	}
	o.add('Z')
}

func (p part) addSegments(o *outline, segments sfnt.Segments) {
	scale := musicScale
	if p.font == serif {
		scale = numeralScale
	}
	at := func(s sfnt.Segment, i int) point {
		x, y := float64(s.Args[i].X), float64(s.Args[i].Y)
		return rounded(x*p.sx*scale+p.dx, (y+p.anchor)*p.sy*scale+p.dy)
	}
	open := false
	for _, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if open {
				o.add('Z')
			}
			o.add('M', at(s, 0))
			open = true
		case sfnt.SegmentOpLineTo:
			o.add('L', at(s, 0))
		case sfnt.SegmentOpQuadTo:
			o.add('Q', at(s, 0), at(s, 1))
		}
	}
	if open {
		o.add('Z')
	}
}

// symbol is a symbol of the music font at its own size.
func symbol(name string, r rune, anchor float64) recipe { return scaled(name, r, anchor, 1, 1) }

// scaled is a symbol of the music font, stretched.
func scaled(name string, r rune, anchor, sx, sy float64) recipe {
	return drawn(name, part{font: music, symbol: r, anchor: anchor, sx: sx, sy: sy})
}

// polygon is a part drawn here, from x, y pairs in hundredths of a staff space.
func polygon(xy ...int) part {
	var points []point
	for i := 0; i+1 < len(xy); i += 2 {
		points = append(points, point{xy[i], xy[i+1]})
	}
	return part{points: points}
}

func drawn(name string, parts ...part) recipe { return recipe{name: name, parts: parts} }

// recipes lists every glyph of the package. Clefs stand on the line they name
// (the percussion and tablature signs and rests on the middle line), note heads
// and accidentals on their note, time-signature signs on the middle line.
func recipes() []recipe {
	return slices.Concat(clefs(), times(), heads(), rests(), accidentals(), marks(), playing(), directions(), dynamics())
}

func clefs() []recipe {
	tab := recipe{name: "clef-tab"}
	for i, r := range "TAB" {
		tab.parts = append(tab.parts, part{font: serif, symbol: r, anchor: 714, sx: 0.6, sy: 0.6,
			dx: [3]float64{4, 0, 3}[i], dy: -190 + 130*float64(i)})
	}
	return []recipe{
		symbol("clef-g", 0x1D11E, 256), symbol("clef-g-up", 0x1D11F, 256), symbol("clef-g-down", 0x1D120, 256),
		symbol("clef-c", 0x1D121, 500),
		symbol("clef-f", 0x1D122, 744), symbol("clef-f-up", 0x1D123, 744), symbol("clef-f-down", 0x1D124, 744),
		drawn("clef-percussion", polygon(0, -100, 45, -100, 45, 100, 0, 100), polygon(75, -100, 120, -100, 120, 100, 75, 100)),
		tab,
	}
}

func times() []recipe {
	list := []recipe{symbol("time-common", 0x1D134, 500), symbol("time-cut", 0x1D135, 497)}
	for d := 0; d <= 9; d++ {
		list = append(list, drawn(fmt.Sprintf("numeral-%d", d), part{font: serif, symbol: rune('0' + d), anchor: 357, sx: 0.98, sy: 1}))
	}
	return append(list, drawn("numeral-plus", part{font: serif, symbol: '+', anchor: 357, sx: 0.75, sy: 0.75}))
}

func heads() []recipe {
	return []recipe{
		symbol("head-black", 0x1D158, 134), symbol("head-half", 0x1D157, 134),
		symbol("head-whole", 0x1D15D, 134), symbol("head-breve", 0x1D15C, 135),
		symbol("head-x", 0x1D143, 134), symbol("head-plus", 0x1D144, 135), symbol("head-circle-x", 0x1D145, 134),
		symbol("head-square", 0x1D147, 134), symbol("head-square-half", 0x1D146, 134),
		symbol("head-triangle", 0x1D149, 134), symbol("head-triangle-half", 0x1D148, 134),
		symbol("head-inverted-triangle", 0x1D14F, 134), symbol("head-inverted-triangle-half", 0x1D14E, 134),
		symbol("head-diamond", 0x1D1BA, 134), symbol("head-diamond-half", 0x1D1B9, 134),
		symbol("head-left-triangle", 0x1D14B, 134), symbol("head-left-triangle-half", 0x1D14A, 134),
		symbol("head-moon", 0x1D153, 140), symbol("head-moon-half", 0x1D152, 140),
		drawn("head-slash", polygon(0, 100, 95, -100, 155, -100, 60, 100)),
		drawn("head-slash-half", polygon(0, 100, 100, -100, 190, -100, 90, 100), polygon(38, 80, 80, 80, 152, -80, 110, -80)),
		drawn("head-slashed", headPart(0x1D158), stroke(-8, 62, 130, -62, 12)), drawn("head-slashed-half", headPart(0x1D157), stroke(-8, 62, 130, -62, 12)),
		drawn("head-back-slashed", headPart(0x1D158), stroke(-8, -62, 130, 62, 12)), drawn("head-back-slashed-half", headPart(0x1D157), stroke(-8, -62, 130, 62, 12)),
		drawn("head-arrow-up", polygon(0, 58, 60, -70, 120, 58, 60, 25)), drawn("head-arrow-down", polygon(0, -58, 60, -25, 120, -58, 60, 70)),
		symbol("dot", 0x1D16D, 278),
	}
}

// headPart is an ordinary head, to be put together with a stroke.
func headPart(r rune) part { return part{font: music, symbol: r, anchor: 134, sx: 1, sy: 1} }

func rests() []recipe {
	return []recipe{
		drawn("rest-long", polygon(0, -100, 55, -100, 55, 100, 0, 100)),
		drawn("rest-breve", polygon(0, -100, 55, -100, 55, 0, 0, 0)),
		drawn("rest-whole", polygon(0, -100, 124, -100, 124, -48, 0, -48)),
		drawn("rest-half", polygon(0, -52, 124, -52, 124, 0, 0, 0)),
		symbol("rest-quarter", 0x1D13D, 500), symbol("rest-eighth", 0x1D13E, 500),
		symbol("rest-16th", 0x1D13F, 500), symbol("rest-32nd", 0x1D140, 478),
		symbol("rest-64th", 0x1D141, 478), symbol("rest-128th", 0x1D142, 478),
		placed("flag-eighth-up", 0x1D16E, 1009, 1), placed("flag-16th-up", 0x1D16F, 1009, 1), placed("flag-32nd-up", 0x1D170, 1154, 1),
		placed("flag-64th-up", 0x1D171, 1330, 1), placed("flag-128th-up", 0x1D172, 1520, 1),
		placed("flag-eighth-down", 0x1D16E, 1009, -1), placed("flag-16th-down", 0x1D16F, 1009, -1), placed("flag-32nd-down", 0x1D170, 1154, -1),
		placed("flag-64th-down", 0x1D171, 1330, -1), placed("flag-128th-down", 0x1D172, 1520, -1),
	}
}

// placed is a symbol that keeps its own origin: a flag hangs from the end of its stem.
func placed(name string, r rune, top, sy float64) recipe {
	flag := scaled(name, r, top, 1, sy)
	flag.keepX = true
	return flag
}

func marks() []recipe {
	return []recipe{
		// Marks stand with y = 0 on the edge that is nearer to the note.
		symbol("accent", 0x1D17B, -146), symbol("staccato", 0x1D17C, -67), symbol("tenuto", 0x1D17D, -39),
		scaled("staccatissimo-above", 0x1D17E, -104, 1, -1), symbol("staccatissimo-below", 0x1D17E, -104),
		scaled("marcato-above", 0x1D17F, -158, 1, -1), symbol("marcato-below", 0x1D17F, -158),
		symbol("fermata-above", 0x1D110, 648), symbol("fermata-below", 0x1D111, 0),
		symbol("breath", 0x1D112, 700), scaled("caesura", 0x1D113, 500, 0.55, 1),
		symbol("trill", 0x1D196, 350), symbol("turn", 0x1D197, 499), symbol("inverted-turn", 0x1D198, 501),
		symbol("slashed-turn", 0x1D199, 499),
		wave("inverted-mordent", false), wave("mordent", true),
		symbol("down-bow", 0x1D1AA, 884), symbol("harmonic", 0x1D1AC, 880),
		symbol("snap-pizzicato", 0x1D1AD, 1000), symbol("stopped", 0x1D144, 135),
		symbol("segno", 0x1D10B, 501), symbol("coda", 0x1D10C, 500),
		symbol("pedal", 0x1D1AE, 270), symbol("pedal-end", 0x1D1AF, 324),
		symbol("simile", 0x1D10E, 500), symbol("brace", 0x1D114, 0), symbol("arpeggio", 0x1D183, 500),
	}
}

// wave is the short wavy line of a mordent, with the stroke through it or not.
func wave(name string, stroke bool) recipe {
	r := drawn(name, part{font: music, symbol: 0x1D19D, anchor: 493, sx: 0.85, sy: 0.85},
		part{font: music, symbol: 0x1D19C, anchor: 493, sx: 0.85, sy: 0.85, dx: 85})
	if stroke {
		r.parts = append(r.parts, polygon(72, -80, 84, -80, 84, 80, 72, 80))
	}
	return r
}

func dynamics() []recipe {
	var list []recipe
	for name, r := range map[string]rune{"p": 0x1D18F, "m": 0x1D190, "f": 0x1D191, "r": 0x1D18C, "s": 0x1D18D, "z": 0x1D18E} {
		list = append(list, placed("dynamic-"+name, r, 352, 1))
	}
	return list
}
