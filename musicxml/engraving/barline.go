package engraving

import "deskpart/musicxml/engraving/display"

// barlineInk is the barline between two bars, from x = 0 rightwards.
type barlineInk struct {
	thin, thick []float64 // left edges of strokes
	dots        []float64 // left edges of repeat dots
	broken      BarStyle  // BarDashed, BarDotted, BarTick or BarShort
	width       float64
}

const (
	thinLine  = 0.16
	thickLine = 0.5
	lineGap   = 0.4
	dotWidth  = 0.39
)

func (b *barlineInk) addThin()  { b.thin = append(b.thin, b.gap()); b.width += thinLine }
func (b *barlineInk) addThick() { b.thick = append(b.thick, b.gap()); b.width += thickLine }
func (b *barlineInk) addDots()  { b.dots = append(b.dots, b.gap()); b.width += dotWidth }

// gap leaves the usual distance from the stroke before and returns the x of the next.
func (b *barlineInk) gap() float64 {
	if b.width > 0 {
		b.width += lineGap
	}
	return b.width
}

// boundary draws the right barline of a bar and the left one of the next as one.
func boundary(right, left Barline) barlineInk {
	b := barlineInk{}
	backward, forward := right.Repeat, left.Repeat
	if backward {
		b.addDots()
	}
	switch style := strongest(right, left); {
	case backward && forward:
		b.addThin()
		b.addThick()
		b.addThin()
	case forward || style == BarHeavyThin:
		b.addThick()
		b.addThin()
	case backward || style == BarFinal:
		b.addThin()
		b.addThick()
	case style == BarDouble:
		b.addThin()
		b.addThin()
	case style == BarHeavy:
		b.addThick()
	case style == BarHeavyHeavy:
		b.addThick()
		b.addThick()
	case style == BarDashed || style == BarDotted || style == BarTick || style == BarShort:
		b.broken = style
		b.addThin()
	case style != BarNone:
		b.addThin()
	}
	if forward {
		b.addDots()
	}
	return b
}

// strongest is the style that shows where both bars name one.
func strongest(right, left Barline) BarStyle {
	switch {
	case left.Style == BarDefault || left.Style == BarNone:
		return right.Style
	case right.Style == BarDefault || right.Style == BarOrdinary || right.Style == BarNone:
		return left.Style
	}
	return right.Style
}

// empty reports whether nothing is drawn.
func (b barlineInk) empty() bool { return b.width == 0 }

// draw puts the barline on one staff.
func (b barlineInk) draw(k *ink, x float64, lines int) {
	top, bottom := barlineSpan(lines)
	for _, dx := range b.thin {
		middle := x + dx + thinLine/2
		switch b.broken {
		case BarDashed:
			k.line(display.RoleDashedBarline, middle, top, middle, bottom)
		case BarDotted:
			k.line(display.RoleDottedBarline, middle, top, middle, bottom)
		case BarTick:
			k.line(display.RoleBarline, middle, top-0.5, middle, top+0.5)
		case BarShort:
			k.line(display.RoleBarline, middle, top+1, middle, bottom-1)
		default:
			k.line(display.RoleBarline, middle, top, middle, bottom)
		}
	}
	for _, dx := range b.thick {
		k.line(display.RoleThickBarline, x+dx+thickLine/2, top, x+dx+thickLine/2, bottom)
	}
	middle := (top + bottom) / 2
	for _, dx := range b.dots {
		k.sign(display.RoleRepeatDot, shape{name: "dot"}, x+dx, middle-0.5, "")
		k.sign(display.RoleRepeatDot, shape{name: "dot"}, x+dx, middle+0.5, "")
	}
}

// connect draws the strokes of the barline from one staff to the next.
func (b barlineInk) connect(k *ink, x, from, to float64) {
	if b.broken != BarDefault {
		return
	}
	for _, dx := range b.thin {
		k.line(display.RoleBarline, x+dx+thinLine/2, from, x+dx+thinLine/2, to)
	}
	for _, dx := range b.thick {
		k.line(display.RoleThickBarline, x+dx+thickLine/2, from, x+dx+thickLine/2, to)
	}
}

// barlineSpan is the top and bottom of barlines: the staff's height, and two
// spaces on a staff of one line.
func barlineSpan(lines int) (top, bottom float64) {
	top, bottom = y(topLine(lines)), y(bottomLine)
	if lines < 2 {
		return bottom - 1, bottom + 1
	}
	return top, bottom
}
