package svg

import (
	"math"
	"strings"

	"deskpart/musicxml/engraving/display"
)

// path is the path data of a stroke or filled figure; "" for signs and texts,
// which are elements of their own.
func path(shape display.Shape) string {
	switch s := shape.(type) {
	case display.Line:
		return line(s)
	case display.Curve:
		return "M" + numbers(s.From.X, s.From.Y) + "Q" + numbers(s.Control.X, s.Control.Y, s.To.X, s.To.Y)
	case display.Wave:
		return wave(s)
	case display.Bow:
		return bow(s)
	case display.Beam:
		return "M" + numbers(s.Left.X, s.Left.Y) + "L" + numbers(s.Right.X, s.Right.Y) + "v" + number(s.Thickness) +
			"L" + numbers(s.Left.X, s.Left.Y+s.Thickness) + "z"
	case display.Box:
		return "M" + numbers(s.Left, s.Top) + "H" + number(s.Right) + "V" + number(s.Bottom) + "H" + number(s.Left) + "z"
	}
	return ""
}

func line(l display.Line) string {
	var out strings.Builder
	out.WriteString("M" + numbers(l.Points[0].X, l.Points[0].Y))
	for i, p := range l.Points[1:] {
		switch before := l.Points[i]; {
		case p.X == before.X:
			out.WriteString("V" + number(p.Y))
		case p.Y == before.Y:
			out.WriteString("H" + number(p.X))
		default:
			out.WriteString("L" + numbers(p.X, p.Y))
		}
	}
	if l.Closed {
		out.WriteByte('z')
	}
	return out.String()
}

// wave writes half waves of half a space each.
func wave(w display.Wave) string {
	const half = 0.5
	dx, dy := float64(w.To.X-w.From.X), float64(w.To.Y-w.From.Y)
	length := math.Hypot(dx, dy)
	n := math.Round(length / half)
	if n < 1 {
		return ""
	}
	// One half wave along the line, and its depth to the right of it.
	along := display.Point{X: display.Spaces(dx / n), Y: display.Spaces(dy / n)}
	aside := display.Point{X: -display.Spaces(dy/length) * w.Depth, Y: display.Spaces(dx/length) * w.Depth}
	var out strings.Builder
	out.WriteString("M" + numbers(w.From.X, w.From.Y))
	for i := range int(n) {
		if i > 0 {
			aside.X, aside.Y = -aside.X, -aside.Y
		}
		out.WriteString("q" + numbers(along.X/2+aside.X, along.Y/2+aside.Y, along.X, along.Y))
	}
	return out.String()
}

func bow(b display.Bow) string {
	outer, inner := b.Controls()
	curve := func(c [2]display.Point, to display.Point) string {
		return "C" + numbers(c[0].X, c[0].Y, c[1].X, c[1].Y, to.X, to.Y)
	}
	return "M" + numbers(b.From.X, b.From.Y) + curve(outer, b.To) + curve(inner, b.From) + "z"
}
