package pdf

import (
	"bytes"
	"math"
	"strings"

	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/fonts"
)

// content is a page's content stream in the making (8.2). Inside a block the unit
// is a staff space and y grows downwards, as in the list of what is drawn; letters
// are turned upright again by their own matrix.
type content struct {
	bytes.Buffer
	used    [faces]codeSet
	missing map[rune]bool // characters that no font has
	// What the graphics state holds (8.4), so that it is not said again.
	thickness, dash, gap float64
	inText               bool
	font                 int // the face, from 1; 0 for none
	size                 float64
	err                  error
}

// places is the number of decimals of a place within a block: a hundredth of a
// staff space is less than the finest dot of a printer.
const places = 2

// number writes a number and a blank.
func (c *content) number(v float64, decimals int) {
	c.Write(append(appendNumber(c.AvailableBuffer(), v, decimals), ' '))
}

func (c *content) numbers(values ...float64) {
	for _, v := range values {
		c.number(v, places)
	}
}

// begin opens a block: its origin and unit become those of the list.
func (c *content) begin(b *display.Block, height display.Millimetres) {
	space := float64(b.Space.Points())
	c.WriteString("q " + number(space, 5) + " 0 0 " + number(-space, 5) + " " +
		number(float64(b.Left.Points()), 3) + " " + number(float64((height-b.Top).Points()), 3) + " cm\n")
	c.thickness, c.dash, c.gap, c.font = -1, 0, 0, 0
}

func (c *content) end() {
	c.endText()
	c.WriteString("Q\n")
}

// item draws one item, moved down.
func (c *content) item(item display.Item, down display.Spaces) {
	switch s := item.Shape.(type) {
	case display.Sign:
		c.sign(s, down)
	case display.Text:
		c.text(s, down)
	case display.Line:
		c.line(s, down)
	case display.Curve:
		c.stroke(s.Thickness, 0, 0)
		c.move(s.From, down)
		c.quadratic(s.From, s.Control, s.To, down)
		c.WriteString("S\n")
	case display.Wave:
		c.wave(s, down)
	case display.Bow:
		c.bow(s, down)
	case display.Beam:
		c.endText()
		c.move(s.Left, down)
		c.to(s.Right, down)
		c.to(display.Point{X: s.Right.X, Y: s.Right.Y + s.Thickness}, down)
		c.to(display.Point{X: s.Left.X, Y: s.Left.Y + s.Thickness}, down)
		c.WriteString("h f\n")
	case display.Box:
		c.endText()
		c.numbers(float64(s.Left), float64(s.Top+down), float64(s.Width()), float64(s.Height()))
		c.WriteString("re f\n")
	}
}

func (c *content) move(p display.Point, down display.Spaces) {
	c.numbers(float64(p.X), float64(p.Y+down))
	c.WriteString("m ")
}

func (c *content) to(p display.Point, down display.Spaces) {
	c.numbers(float64(p.X), float64(p.Y+down))
	c.WriteString("l ")
}

func (c *content) cubic(a, b, p display.Point, down display.Spaces) {
	c.numbers(float64(a.X), float64(a.Y+down), float64(b.X), float64(b.Y+down), float64(p.X), float64(p.Y+down))
	c.WriteString("c ")
}

// quadratic raises a quadratic curve to a cubic one, which is all there is (8.5.2).
func (c *content) quadratic(from, control, to display.Point, down display.Spaces) {
	third := func(a display.Point) display.Point {
		return display.Point{X: a.X + (control.X-a.X)*2/3, Y: a.Y + (control.Y-a.Y)*2/3}
	}
	c.cubic(third(from), third(to), to, down)
}

// stroke sets the width and dashes of strokes.
func (c *content) stroke(thickness, dash, gap display.Spaces) {
	c.endText()
	if w := float64(thickness); w != c.thickness {
		c.thickness = w
		c.number(w, 3)
		c.WriteString("w ")
	}
	if float64(dash) != c.dash || float64(gap) != c.gap {
		c.dash, c.gap = float64(dash), float64(gap)
		if dash == 0 {
			c.WriteString("[] 0 d ")
			return
		}
		c.WriteString("[" + number(c.dash, places) + " " + number(c.gap, places) + "] 0 d ")
	}
}

func (c *content) line(l display.Line, down display.Spaces) {
	c.stroke(l.Thickness, l.Dash, l.Gap)
	c.move(l.Points[0], down)
	for _, p := range l.Points[1:] {
		c.to(p, down)
	}
	if l.Closed {
		c.WriteString("h ")
	}
	c.WriteString("S\n")
}

// wave draws half waves of half a space each (display.Wave).
func (c *content) wave(w display.Wave, down display.Spaces) {
	const half = 0.5
	dx, dy := float64(w.To.X-w.From.X), float64(w.To.Y-w.From.Y)
	length := math.Hypot(dx, dy)
	n := math.Round(length / half)
	if n < 1 {
		return
	}
	c.stroke(w.Thickness, 0, 0)
	c.move(w.From, down)
	depth := float64(w.Depth)
	at := w.From
	for i := range int(n) {
		share := float64(i+1) / n
		to := display.Point{X: w.From.X + display.Spaces(dx*share), Y: w.From.Y + display.Spaces(dy*share)}
		control := display.Point{X: (at.X+to.X)/2 - display.Spaces(dy/length*depth), Y: (at.Y+to.Y)/2 + display.Spaces(dx/length*depth)}
		c.quadratic(at, control, to, down)
		at, depth = to, -depth
	}
	c.WriteString("S\n")
}

func (c *content) bow(b display.Bow, down display.Spaces) {
	c.endText()
	outer, inner := b.Controls()
	c.move(b.From, down)
	c.cubic(outer[0], outer[1], b.To, down)
	c.cubic(inner[0], inner[1], b.From, down)
	c.WriteString("h f\n")
}

// setFont opens a text object where none is open (9.4) and chooses a font in it.
func (c *content) setFont(face fonts.Face, size float64) {
	if !c.inText {
		c.WriteString("BT ")
		c.inText = true
	}
	if font := int(face) + 1; c.font != font || c.size != size {
		c.font, c.size = font, size
		c.WriteString("/" + typefaces[face].resource + " ")
		c.number(size, 3)
		c.WriteString("Tf ")
	}
}

// show shows characters by their codes.
func (c *content) show(face fonts.Face, codes ...uint16) {
	if c.used[face] == nil {
		c.used[face] = codeSet{}
	}
	const digits = "0123456789ABCDEF"
	c.WriteByte('<')
	for _, code := range codes {
		c.used[face][code] = true
		for shift := 12; shift >= 0; shift -= 4 {
			c.WriteByte(digits[code>>shift&15])
		}
	}
	c.WriteString("> Tj\n")
}

func (c *content) endText() {
	if c.inText {
		c.WriteString("ET\n")
		c.inText = false
	}
}

// sign draws a sign: its em is the height of a staff.
func (c *content) sign(s display.Sign, down display.Spaces) {
	sign, known := fonts.SignOf(s.Name)
	if !known {
		return
	}
	table, err := tableOf(signFace)
	if err != nil {
		c.err = err
		return
	}
	c.setFont(signFace, signUnits/100)
	wide, tall := s.Scales()
	c.matrix(wide, tall, float64(s.At.X), float64(s.At.Y+down))
	c.show(signFace, table.codes[sign.Name])
}

// matrix places letters, upright in a space whose y grows downwards.
func (c *content) matrix(wide, tall, x, y float64) {
	c.number(wide, 3)
	c.WriteString("0 0 ")
	c.number(-tall, 3)
	c.numbers(x, y)
	c.WriteString("Tm ")
}

func (c *content) text(t display.Text, down display.Spaces) {
	if strings.TrimSpace(t.Text) == "" {
		return
	}
	if t.Halo > 0 {
		// The letters' border in the colour of the paper, then the letters.
		c.endText()
		c.WriteString("q 1 G 1 j " + number(2*float64(t.Halo), 3) + " w 1 Tr ")
		c.runs(t, down)
		c.endText()
		c.WriteString("Q ")
		c.thickness, c.dash, c.gap, c.font = -1, 0, 0, 0
	}
	c.runs(t, down)
}

// runs sets a text, each stretch in its face.
func (c *content) runs(t display.Text, down display.Spaces) {
	x := t.Left()
	for _, run := range t.Face.Runs(t.Text) {
		table, err := tableOf(run.Face)
		if err != nil {
			c.err = err
			return
		}
		if codes := c.codesOf(table, run.Text); len(codes) > 0 {
			c.setFont(run.Face, float64(t.Size))
			c.matrix(1, 1, float64(x), float64(t.At.Y+down))
			c.show(run.Face, codes...)
		}
		x += display.Spaces(run.Face.Width(run.Text)) * t.Size
	}
}

// codesOf are the codes of a text; characters that the face lacks are left out and
// remembered.
func (c *content) codesOf(table *glyphTable, text string) []uint16 {
	var codes []uint16
	for _, r := range text {
		if code, known := table.codes[string(r)]; known {
			codes = append(codes, code)
		} else {
			c.missing[r] = true
		}
	}
	return codes
}
