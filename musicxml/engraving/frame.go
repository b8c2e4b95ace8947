package engraving

import "fmt"

// drawFrame draws what joins the staves: the line at the left, braces, brackets,
// names and the strokes of barlines between staves.
func (s *system) drawFrame(k *ink, top float64) {
	if len(s.staves) > 1 {
		from, to := s.staves[0], s.staves[len(s.staves)-1]
		k.path("barline", line(s.indent, from.y-top+y(topLine(from.lines)), s.indent, to.y-top+y(bottomLine)))
	}
	for _, g := range s.l.music.Groups {
		if g.From < 0 || g.To >= len(s.staves) || g.From > g.To {
			continue
		}
		s.drawGroup(k, g, top)
	}
	for _, st := range s.staves {
		name := s.l.music.Staves[st.index].Short
		if s.first == s.l.from {
			name = s.l.music.Staves[st.index].Name
		}
		lines := splitLines(name)
		for i, text := range lines {
			height := st.y - top + 0.5 + (float64(i)-float64(len(lines)-1)/2)*nameSize*1.15
			if text != "" {
				k.text("name", "end", text, s.indent-s.l.symbolWidth()-0.6, height)
			}
		}
	}
}

func (s *system) drawGroup(k *ink, g Group, top float64) {
	from, to := s.staves[g.From], s.staves[g.To]
	upper, lower := from.y-top+y(topLine(from.lines)), to.y-top+y(bottomLine)
	switch g.Symbol {
	case Brace:
		box := shape{name: "brace"}.box()
		scale := (lower - upper) / (box.bottom - box.top)
		k.used[shape{name: "brace"}] = true
		wide := min(scale, 1.6)
		k.raw(fmt.Sprintf(`<use href="#%sbrace" transform="translate(%s %s) scale(%s %s)"/>`, idPrefix,
			number(s.indent-0.25-box.right*wide), number(lower), decimal(wide), decimal(scale)))
	case Bracket:
		x := s.indent - 0.75
		k.path("barline thick", line(x, upper-0.4, x, lower+0.4))
		k.path("fence", "M"+numbers(x-0.2, upper-0.4)+"q"+numbers(0.7, -0.1, 1.0, -0.6)+"M"+numbers(x-0.2, lower+0.4)+"q"+numbers(0.7, 0.1, 1.0, 0.6))
	}
	if !g.Barlines {
		return
	}
	for i := g.From; i < g.To; i++ {
		a, b := s.staves[i], s.staves[i+1]
		for n, p := range s.bars {
			s.boundaries[n].connect(k, p.end, a.y-top+y(bottomLine), b.y-top+y(topLine(b.lines)))
		}
	}
}
