package engraving

import (
	"strings"

	"deskpart/musicxml/engraving/display"
)

// drawFrame draws what joins the staves: the line at the left, braces, brackets,
// names and the strokes of barlines between staves.
func (s *system) drawFrame(k *ink, top float64) {
	shown := s.shown()
	if len(shown) > 1 {
		from, to := shown[0], shown[len(shown)-1]
		upper, _ := from.edges()
		_, lower := to.edges()
		k.line(display.RoleSystemLine, s.indent, from.y-top+upper, s.indent, to.y-top+lower)
	}
	for _, g := range s.l.music.Groups {
		if g.From < 0 || g.To >= len(s.staves) || g.From > g.To {
			continue
		}
		var staves []*staffInk
		for _, st := range shown {
			if st.index >= g.From && st.index <= g.To {
				staves = append(staves, st)
			}
		}
		if len(staves) > 1 || len(staves) == 1 && g.From == g.To {
			s.drawGroup(k, g, staves, top)
		}
	}
	for _, st := range shown {
		name := s.l.music.Staves[st.index].Short
		if s.first == s.l.from {
			name = s.l.music.Staves[st.index].Name
		}
		lines := strings.Split(name, "\n")
		for i, text := range lines {
			height := st.y - top + 0.5 + (float64(i)-float64(len(lines)-1)/2)*nameSize*1.15
			if text != "" {
				k.text(display.RoleStaffName, display.End, text, s.indent-s.l.symbolWidth()-0.6, height)
			}
		}
	}
}

// bracketTip is the curved end of a bracket, upwards for a down of −1.
func (k *ink) bracketTip(x, y, down float64) {
	k.add(display.RoleBracketTip, "", display.Curve{From: place(x, y), Control: place(x+0.7, y+0.1*down), To: place(x+1, y+0.6*down),
		Thickness: k.thickness(display.RoleBracketTip)})
}

// drawGroup joins the staves of a group that the line has.
func (s *system) drawGroup(k *ink, g Group, staves []*staffInk, top float64) {
	from, to := staves[0], staves[len(staves)-1]
	upper, _ := from.edges()
	_, lower := to.edges()
	upper, lower = from.y-top+upper, to.y-top+lower
	switch g.Symbol {
	case Brace:
		box := shape{name: "brace"}.box()
		scale := (lower - upper) / (box.bottom - box.top)
		wide := min(scale, 1.6)
		k.add(display.RoleBrace, "", display.Sign{Name: "brace", At: place(s.indent-0.25-box.right*wide, lower), Scale: wide, Tall: scale})
	case Bracket:
		x := s.indent - 0.75
		k.line(display.RoleBracket, x, upper-0.4, x, lower+0.4)
		k.bracketTip(x-0.2, upper-0.4, -1)
		k.bracketTip(x-0.2, lower+0.4, 1)
	}
	if !g.Barlines {
		return
	}
	for i := range staves[1:] {
		a, b := staves[i], staves[i+1]
		_, lower := a.edges()
		upper, _ := b.edges()
		for n, p := range s.bars {
			if s.hiddenAt(a.index, p.index) || s.hiddenAt(b.index, p.index) {
				continue
			}
			s.boundaries[n].connect(k, p.end, a.y-top+lower, b.y-top+upper)
		}
	}
}
