package engraving

import "deskpart/musicxml/engraving/display"

// barlineSigns draws fermatas, segnos and codas that stand on barlines.
func (s *system) barlineSigns(st *staffInk) {
	if st.index != 0 {
		return
	}
	for n, p := range s.bars {
		bar := s.l.music.Bars[p.index]
		st.ofBar(p.index)
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
	if !isSign(name) {
		return
	}
	left := x - sh.width()/2
	at := st.sky.above(left, left+sh.width()) - 0.4 - sh.box().bottom
	st.sign(display.RoleBarlineSign, sh, left, at, "")
	st.sky.glyph(sh, left, at)
}

// drawNumber prints the number of a line's first bar over it.
func (s *system) drawNumber(st *staffInk) {
	if s.l.o.Unnumbered || len(s.bars) == 0 {
		return
	}
	first := s.bars[0].index
	text := s.l.music.Bars[first].Number
	if text == "" || text == "0" || text == "1" { // a beginning says so itself, with an upbeat too
		return
	}
	right := s.indent + textWidth(display.RoleBarNumber, text)
	at := st.sky.above(s.indent, right) - 0.5
	st.ofBar(first)
	st.text(display.RoleBarNumber, display.Start, text, s.indent, at)
	st.sky.add(s.indent, right, at-numberSize*0.8, at)
}

// drawRestRanges prints which bars a multi-bar rest stands for, below it.
func (s *system) drawRestRanges(st *staffInk) {
	if !s.l.o.RestRanges || st.index != len(s.staves)-1 {
		return
	}
	for _, p := range s.bars {
		bar := &s.l.music.Bars[p.index]
		if bar.RestBars < 2 || bar.Number == "" || bar.LastNumber == "" {
			continue
		}
		text := bar.Number + "–" + bar.LastNumber
		half, middle := textWidth(display.RoleBarNumber, text)/2, (p.start+p.end-p.closingWidth())/2
		at := st.sky.below(middle-half, middle+half) + 0.5 + numberSize*0.75
		st.ofBar(p.index)
		st.text(display.RoleBarNumber, display.Middle, text, middle, at)
		st.sky.add(middle-half, middle+half, at-numberSize*0.75, at+0.2)
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
		points := []float64{sp.left, at, sp.right, at}
		if sp.from.Start {
			points = append([]float64{sp.left, at + 1.8}, points...)
		}
		if sp.to.Stop {
			points = append(points, sp.right, at+1.8)
		}
		st.line(display.RoleEndingLine, points...)
		if sp.from.Start && sp.from.Text != "" {
			st.text(display.RoleEnding, display.Start, sp.from.Text, sp.left+0.4, at+1.5)
		}
		st.sky.add(sp.left, sp.right, at-0.1, at+1.8)
	}
}
