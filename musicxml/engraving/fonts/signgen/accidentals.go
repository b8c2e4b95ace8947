package main

// Accidentals are named by the values of MusicXML 4.0's accidental-value type.
// The text symbols U+266D to U+266F are narrowed to the proportions of printed
// music; what Unicode has no symbol for is put together from them.

func flatPart(dx, sx float64) part {
	return part{font: music, symbol: 0x266D, anchor: 112, sx: sx, sy: 1.05, dx: dx}
}

func naturalPart() part { return part{font: music, symbol: 0x266E, anchor: 97, sx: 0.72, sy: 1.05} }

func sharpPart(dx float64) part {
	return part{font: music, symbol: 0x266F, anchor: 180, sx: 0.62, sy: 0.82, dx: dx}
}

func doubleSharpPart(dx float64) part {
	return part{font: music, symbol: 0x1D12A, anchor: 131, sx: 1, sy: 1, dx: dx}
}

// digitPart is a small raised figure, as Turkish accidentals have it.
func digitPart(r rune, dx float64) part {
	return part{font: serif, symbol: r, anchor: 357, sx: 0.5, sy: 0.5, dx: dx, dy: -105}
}

// arrow is a shaft with its head at x, from y to tip.
func arrow(x, y, tip int) []part {
	head := 40
	if tip > y {
		head = -40
	}
	return []part{
		polygon(x-6, y, x+6, y, x+6, tip+head, x-6, tip+head),
		polygon(x-22, tip+head, x, tip, x+22, tip+head),
	}
}

// bar is one slanting stroke of a sharp.
func bar(right, y int) part {
	rise := right / 4
	return polygon(0, y+rise-12, right, y-rise-12, right, y-rise+14, 0, y+rise+14)
}

func upright(x int) part { return polygon(x-6, -138, x+6, -138, x+6, 138, x-6, 138) }

// slash is a stroke through the stem of a flat.
func slash(y int) part { return polygon(-22, y+22, 52, y-22, 52, y-8, -22, y+36) }

func accidentals() []recipe {
	with := func(name string, parts []part, more ...part) recipe { return drawn(name, append(more, parts...)...) }
	list := []recipe{
		drawn("sharp", sharpPart(0)), drawn("natural", naturalPart()), drawn("flat", flatPart(0, 0.85)),
		drawn("double-sharp", doubleSharpPart(0)), drawn("sharp-sharp", sharpPart(0), sharpPart(122)),
		drawn("flat-flat", flatPart(0, 0.78), flatPart(64, 0.78)),
		drawn("natural-sharp", naturalPart(), sharpPart(95)), drawn("natural-flat", naturalPart(), flatPart(95, 0.85)),
		drawn("triple-sharp", sharpPart(0), doubleSharpPart(130)),
		drawn("triple-flat", flatPart(0, 0.78), flatPart(64, 0.78), flatPart(128, 0.78)),
		with("sharp-up", arrow(90, -100, -195), sharpPart(0)), with("sharp-down", arrow(46, 100, 195), sharpPart(0)),
		with("natural-up", arrow(21, -100, -190), naturalPart()), with("natural-down", arrow(84, 100, 190), naturalPart()),
		with("flat-up", arrow(25, -140, -235), flatPart(0, 0.85)), with("flat-down", arrow(25, 30, 125), flatPart(0, 0.85)),
		with("double-sharp-up", arrow(74, 0, -130), doubleSharpPart(0)), with("double-sharp-down", arrow(74, 0, 130), doubleSharpPart(0)),
		with("flat-flat-up", arrow(23, -140, -235), flatPart(0, 0.78), flatPart(64, 0.78)),
		with("flat-flat-down", arrow(23, 30, 125), flatPart(0, 0.78), flatPart(64, 0.78)),
		drawn("arrow-up", arrow(22, 110, -110)...), drawn("arrow-down", arrow(22, -110, 110)...),
		drawn("quarter-flat", flatPart(0, -0.85)),
		drawn("quarter-sharp", upright(38), bar(76, -38), bar(76, 38)),
		drawn("three-quarters-flat", flatPart(0, -0.8), flatPart(8, 0.8)),
		drawn("three-quarters-sharp", upright(30), upright(70), upright(110), bar(140, -38), bar(140, 38)),
		drawn("slash-quarter-sharp", upright(38), bar(76, -60), bar(76, 0), bar(76, 60)),
		drawn("slash-sharp", upright(30), upright(75), bar(105, -60), bar(105, 0), bar(105, 60)),
		drawn("slash-flat", flatPart(-21, 0.85), slash(-85)),
		drawn("double-slash-flat", flatPart(-21, 0.85), slash(-105), slash(-65)),
		drawn("sori", polygon(20, -140, 32, -140, 32, 140, 20, 140), polygon(0, -85, 110, -8, 110, 8, 0, 85, 0, 60, 84, 0, 0, -60)),
		drawn("koron", polygon(0, -150, 12, -150, 12, -62, 100, -10, 100, 12, 8, 66, 0, 52, 76, 2, 0, -44)),
	}
	for _, d := range "1235" {
		list = append(list, drawn("sharp-"+string(d), sharpPart(0), digitPart(d, 135)))
	}
	for _, d := range "1234" {
		list = append(list, drawn("flat-"+string(d), flatPart(0, 0.85), digitPart(d, 70)))
	}
	return list
}
