package engraving

// barlineSigns draws fermatas, segnos and codas that stand on barlines.
func (s *system) barlineSigns(st *staffInk) {
	if st.index != 0 {
		return
	}
	for n, p := range s.bars {
		bar := s.l.music.Bars[p.index]
		if bar.Right.Sign != "" {
			st.barlineSign(bar.Right.Sign, p.end+s.boundaries[n].width/2)
		}
		if bar.Left.Sign != "" {
			st.barlineSign(bar.Left.Sign, p.x)
		}
	}
}

func (st *staffInk) barlineSign(name string, x float64) {
	if sided[name] {
		name += "-above"
	}
	sh := shape{name: name}
	if _, known := glyphs()[name]; !known {
		return
	}
	left := x - sh.width()/2
	at := st.sky.above(left, left+sh.width()) - 0.4 - sh.box().bottom
	st.glyph(sh, left, at, "")
	st.sky.glyph(sh, left, at)
}

// drawNumbers prints bar numbers over the first bar of a line, or over all.
func (s *system) drawNumbers(st *staffInk) {
	if s.l.o.Unnumbered {
		return
	}
	for i, p := range s.bars {
		text := s.l.music.Bars[p.index].Number
		if text == "" || i > 0 && !s.l.o.AllNumbers || text == "1" && !s.l.o.AllNumbers {
			continue
		}
		x := p.x
		if i == 0 {
			x = s.indent
		}
		width := textWidth(text, numberSize)
		at := st.sky.above(x, x+width) - 0.5
		st.text("number", "start", text, x, at)
		st.sky.add(x, x+width, at-numberSize*0.8, at)
	}
}

// drawEndings draws the brackets of first and second endings, level on a line.
func (s *system) drawEndings(st *staffInk) {
	type span struct {
		left, right float64
		from, to    Ending
	}
	var spans []span
	for n, p := range s.bars {
		e := s.l.music.Bars[p.index].Ending
		if !e.Over {
			continue
		}
		right := p.end + s.boundaries[n].width - 0.3
		if e.Start || len(spans) == 0 || spans[len(spans)-1].to.Stop {
			spans = append(spans, span{p.x + 0.3, right, e, e})
			continue
		}
		spans[len(spans)-1].right, spans[len(spans)-1].to = right, e
	}
	at := st.sky.top - 2.2
	for _, sp := range spans {
		at = min(at, st.sky.above(sp.left, sp.right)-2.2)
	}
	for _, sp := range spans {
		d := "M" + numbers(sp.left, at+1.8) + "V" + number(at) + "H" + number(sp.right)
		if !sp.from.Start {
			d = "M" + numbers(sp.left, at) + "H" + number(sp.right)
		}
		if sp.to.Stop {
			d += "V" + number(at+1.8)
		}
		st.path("stroke", d)
		if sp.from.Start && sp.from.Text != "" {
			st.text("ending", "start", sp.from.Text, sp.left+0.4, at+1.5)
		}
		st.sky.add(sp.left, sp.right, at-0.1, at+1.8)
	}
}
