package engraving

import (
	"math"

	"deskpart/musicxml/engraving/display"
)

// octaveTexts are the words of octave lines; the line runs above for those that
// sound higher.
var octaveTexts = map[SpannerKind]string{OctaveUp: "8va", OctaveDown: "8vb", TwoOctavesUp: "15ma", TwoOctavesDown: "15mb"}

// drawSpanners draws octave, trill and pedal lines. Hairpins and dashes are drawn
// with the dynamics, see drawLevels.
func (s *system) drawSpanners(st *staffInk) {
	list := s.l.music.Staves[st.index].Spanners
	for i := range list {
		sp := &list[i]
		if !s.shows(sp) {
			continue
		}
		left, right := s.spannerEnds(sp)
		bar := max(sp.From.Bar, s.first)
		st.ofBar(bar)
		begins, ends := sp.From.Bar >= s.first, sp.To.Bar < s.end
		switch sp.Kind {
		case OctaveUp, TwoOctavesUp:
			st.octaveLine(sp, left, right, true, begins, ends)
		case OctaveDown, TwoOctavesDown:
			st.octaveLine(sp, left, right, false, begins, ends)
		case TrillLine:
			st.trillLine(left, right)
		case PedalLine:
			st.ruledLine(display.RolePedalLine, left, right, sp.Side == Above, -0.8)
		}
	}
}

// spannerEnds are the x of a spanner on this line, cut at its edges.
func (s *system) spannerEnds(sp *Spanner) (left, right float64) {
	left, right = s.bars[0].start, s.lineEnd()-0.2
	if sp.From.Bar >= s.first {
		left = s.xAt(sp.From.Bar, sp.From.Onset)
	}
	if sp.To.Bar < s.end {
		right = s.xAt(sp.To.Bar, sp.To.Onset)
		p := s.bars[sp.To.Bar-s.first]
		if sp.To.Onset.Cmp(p.length) >= 0 {
			right = p.end - 0.4
		}
	}
	return left, max(right, left+1.2)
}

// octaveLine draws an octave line, or the piece of one that stands on this line: it
// goes on from the line before with its figure in parentheses, and has its hook
// only where it ends.
func (st *staffInk) octaveLine(sp *Spanner, left, right float64, up, begins, ends bool) {
	if sp.Side != SideAuto {
		up = sp.Side == Above
	}
	text := octaveTexts[sp.Kind]
	if !begins {
		text = "(" + text + ")"
	}
	if ends {
		right -= 0.5
	}
	right = max(right, left+2.6)
	width := textWidth(display.RoleOctave, text)
	at, jog := st.sky.above(left, right)-0.9, 0.8
	if !up {
		at, jog = st.sky.below(left, right)+0.9+0.8, -0.8
	}
	st.text(display.RoleOctave, display.Start, text, left, at+0.45)
	st.line(display.RoleOctaveLine, left+width+0.3, at, right, at)
	if ends {
		st.line(display.RoleOctaveHook, right, at, right, at+jog)
	}
	st.sky.add(left, right, at-1.1, at+0.8)
}

// trillLine is the wavy line after a trill sign.
func (st *staffInk) trillLine(left, right float64) {
	left += 1.9
	if right < left+1 {
		return
	}
	at := st.sky.above(left, right) - 0.6
	// Beside a trill sign that stands there already.
	if edge := st.sky.above(left-1.9, left-1); edge < at+0.4 {
		at = min(at, edge+0.9)
	}
	right = left + math.Floor(right-left)
	st.wave(display.RoleTrillLine, left, at, right, at, -0.5)
	st.sky.add(left, right, at-0.4, at+0.4)
}

func (st *staffInk) ruledLine(role display.Role, left, right float64, up bool, jog float64) {
	at := st.sky.below(left, right) + 1.4
	if up {
		at = st.sky.above(left, right) - 1.4
	}
	st.line(role, left, at+jog, left, at, right, at, right, at+jog)
	st.sky.add(left, right, at-1, at+0.2)
}
