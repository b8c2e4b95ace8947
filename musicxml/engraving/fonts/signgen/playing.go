package main

import (
	"math"
	"slices"
)

// disc is a filled circle; a hollow one turns the other way and leaves a hole in
// the disc around it.
func disc(cx, cy, r float64, hollow bool) part {
	const n = 8
	var points []point
	for i := range 2 * n {
		angle, length := math.Pi*float64(i)/n, r
		if i%2 == 1 {
			length = r / math.Cos(math.Pi/n) // a control point
		}
		if hollow {
			angle = -angle
		}
		points = append(points, rounded(cx+length*math.Cos(angle), cy+length*math.Sin(angle)))
	}
	return part{points: points, curved: true}
}

// ring is a circle of the stroke width 12 around the radius r.
func ring(cx, cy, r float64) []part {
	return []part{disc(cx, cy, r+6, false), disc(cx, cy, r-6, true)}
}

// stroke is a straight line of width w.
func stroke(x1, y1, x2, y2, w float64) part {
	length := math.Hypot(x2-x1, y2-y1)
	dx, dy := (y2-y1)/length*w/2, -(x2-x1)/length*w/2
	return part{points: []point{rounded(x1+dx, y1+dy), rounded(x2+dx, y2+dy), rounded(x2-dx, y2-dy), rounded(x1-dx, y1-dy)}}
}

func rounded(x, y float64) point { return point{int(math.Round(x)), int(math.Round(y))} }

func joined(name string, lists ...[]part) recipe { return drawn(name, slices.Concat(lists...)...) }

// playing are the signs of playing techniques and of articulations that are rare.
// Those of the font are its own; the others are drawn after their usual form,
// common practice.
func playing() []recipe {
	return []recipe{
		symbol("doit", 0x1D185, 875), scaled("falloff", 0x1D185, 875, 1, -1), symbol("plop", 0x1D186, 875), scaled("scoop", 0x1D186, 875, 1, -1),
		symbol("flip", 0x1D187, 884), symbol("smear", 0x1D188, 876), symbol("brass-bend", 0x1D189, 884),
		symbol("double-tongue", 0x1D18A, -94), symbol("triple-tongue", 0x1D18B, -94),
		symbol("fingernails", 0x1D1B3, 513),
		joined("thumb-position", ring(35, 0, 30), []part{polygon(29, 32, 41, 32, 41, 75, 29, 75)}),
		drawn("up-bow", stroke(7, -60, 40, 50, 14), stroke(73, -60, 40, 50, 14)), // the font's is a hairline
		drawn("heel", polygon(0, -55, 13, -55, 13, 10, 22, 32, 50, 32, 59, 10, 59, -55, 72, -55, 72, 15, 58, 45, 14, 45, 0, 15)),
		drawn("toe", stroke(5, 50, 45, -50, 12), stroke(45, -50, 85, 50, 12)),
		joined("hole-open", ring(50, 0, 42)), drawn("hole-closed", disc(50, 0, 48, false)),
		joined("hole-half", ring(50, 0, 42), []part{{points: halfDisc(50, 0, 42)}}),
		joined("half-muted", ring(45, 0, 30), []part{stroke(15, 45, 75, -45, 10)}),
		joined("golpe", []part{polygon(0, -50, 100, -50, 100, 50, 0, 50), polygon(11, -39, 11, 39, 89, 39, 89, -39)}),
		drawn("stress", stroke(0, 40, 40, -40, 14)), symbol("unstress", 0x1D1A4, 400),
		drawn("soft-accent", stroke(0, 0, 90, -40, 10), stroke(0, 0, 90, 40, 10), stroke(190, 0, 100, -40, 10), stroke(190, 0, 100, 40, 10)),
		drawn("schleifer", part{font: music, symbol: 0x1D19D, anchor: 493, sx: 0.8, sy: 0.8}, stroke(80, 0, 130, -75, 12)),
		drawn("fermata-angled-above", stroke(0, 0, 75, -130, 14), stroke(75, -130, 150, 0, 14), disc(75, -20, 14, false)),
		drawn("fermata-angled-below", stroke(0, 0, 75, 130, 14), stroke(75, 130, 150, 0, 14), disc(75, 20, 14, false)),
		drawn("fermata-square-above", polygon(0, 0, 0, -120, 180, -120, 180, 0, 164, 0, 164, -104, 16, -104, 16, 0), disc(90, -25, 15, false)),
		drawn("fermata-square-below", polygon(0, 0, 16, 0, 16, 104, 164, 104, 164, 0, 180, 0, 180, 120, 0, 120), disc(90, 25, 15, false)),
		drawn("breath-tick", stroke(0, -60, 25, 0, 12), stroke(25, 0, 90, -130, 12)),
	}
}

// halfDisc is the left half of a disc.
func halfDisc(cx, cy, r float64) []point {
	var points []point
	for i := range 13 {
		angle := math.Pi/2 + math.Pi*float64(i)/12
		points = append(points, rounded(cx+r*math.Cos(angle), cy+r*math.Sin(angle)))
	}
	return points
}

// directions are signs that stand beside the staff by themselves.
func directions() []recipe {
	return []recipe{
		symbol("damp", 0x1D1B4, 502), symbol("damp-all", 0x1D1B5, 502), symbol("hauptstimme", 0x1D1A6, 500), symbol("nebenstimme", 0x1D1A7, 500),
		symbol("stimme-end", 0x1D1A8, 500), symbol("repeat-beat", 0x1D10D, 500), symbol("repeat-two-bars", 0x1D10F, 500),
		joined("eyeglasses", ring(55, 20, 45), ring(185, 20, 45),
			[]part{stroke(95, 5, 120, -10, 12), stroke(120, -10, 145, 5, 12), stroke(10, 10, 40, -70, 12), stroke(230, 10, 200, -70, 12)}),
		joined("string-mute-on", []part{polygon(0, -60, 12, -60, 12, 48, 128, 48, 128, -60, 140, -60, 140, 60, 0, 60)},
			[]part{polygon(64, -60, 76, -60, 76, 48, 64, 48)}),
		joined("string-mute-off", []part{polygon(0, 60, 12, 60, 12, -48, 128, -48, 128, 60, 140, 60, 140, -60, 0, -60)},
			[]part{polygon(64, -48, 76, -48, 76, 60, 64, 60)}),
		drawn("divide-down", stroke(70, -90, 70, 90, 14), stroke(70, 92, 25, 40, 14), stroke(70, 92, 115, 40, 14)),
		drawn("divide-up", stroke(70, -90, 70, 90, 14), stroke(70, -92, 25, -40, 14), stroke(70, -92, 115, -40, 14)),
		drawn("divide-both", stroke(0, 0, 140, -90, 14), stroke(0, 0, 140, 90, 14)),
	}
}
