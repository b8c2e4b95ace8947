package engraving

import (
	"math"

	"deskpart/musicxml/engraving/display"
)

// octaveTexts are the words of octave lines; the line runs above for those that
// sound higher.
var octaveTexts = map[SpannerKind]string{OctaveUp: "8va", OctaveDown: "8vb", TwoOctavesUp: "15ma", TwoOctavesDown: "15mb",
	ThreeOctavesUp: "22ma", ThreeOctavesDown: "22mb"}

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
		case OctaveUp, TwoOctavesUp, ThreeOctavesUp:
			s.octaveLine(st, sp, left, right, true, begins, ends)
		case OctaveDown, TwoOctavesDown, ThreeOctavesDown:
			s.octaveLine(st, sp, left, right, false, begins, ends)
		case TrillLine:
			st.trillLine(left, right)
		case PedalLine:
			s.pedalLine(st, sp, left, right, begins, ends)
		case BracketLine:
			st.bracketLine(sp, left, right, begins, ends)
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

// inkAt is where the heads of a moment begin on a staff, with those of its grace notes.
func (s *system) inkAt(st *staffInk, at Moment) float64 {
	left := math.Inf(1)
	for _, c := range s.bars[at.Bar-s.first].columns {
		if c.onset == at.Onset {
			for _, f := range c.cells[st.index].figures {
				for _, h := range f.heads {
					left = min(left, c.x+f.dx+h.dx)
				}
			}
		}
	}
	return left
}

// octaveLine draws an octave line, or the piece of one that stands on this line: it
// goes on from the line before with its figure in parentheses, and has its hook
// only where it ends. What stands under it is exactly what is read an octave away.
func (s *system) octaveLine(st *staffInk, sp *Spanner, left, right float64, up, begins, ends bool) {
	if sp.Side != SideAuto {
		up = sp.Side == Above
	}
	text := octaveTexts[sp.Kind]
	if !begins {
		text = "(" + text + ")"
	}
	width := textWidth(display.RoleOctave, text)
	if ends {
		right = min(right, s.inkAt(st, sp.To)) - octaveHook
	}
	if begins {
		left = min(left, s.inkAt(st, sp.From))
	} else {
		left = min(left, right-width-octaveAir) // over the signs at the line's head
	}
	at, jog := st.sky.above(left, right)-0.9, 0.8
	if !up {
		at, jog = st.sky.below(left, right)+0.9+0.8, -0.8
	}
	st.text(display.RoleOctave, display.Start, text, left, at+0.45)
	if from := left + width + octaveAir; right-from > 0.3 {
		st.line(display.RoleOctaveLine, from, at, right, at)
	}
	if ends {
		st.line(display.RoleOctaveHook, right, at, right, at+jog)
	}
	st.sky.add(left, right, at-1.1, at+0.8)
}

// octaveAir stands between the figure of an octave line and its dashes or hook, octaveHook
// between that and the next note.
const octaveAir, octaveHook = 0.3, 0.5

// trillLine is the wavy line after a trill sign.
func (st *staffInk) trillLine(left, right float64) {
	const behind = 1.9
	from, level := left+behind, math.Inf(1)
	for _, sign := range st.trills {
		if x := float64(sign.X); x > left-0.5 && x < left+behind {
			// Beside the trill sign that it goes on from.
			from, level = max(from, x+shape{name: "trill"}.width()/2+slice), float64(sign.Y)-0.6
		}
	}
	if left = from; right < left+1 {
		return
	}
	at := min(level, st.sky.above(left, right)-0.6)
	right = left + math.Floor(right-left)
	st.wave(display.RoleTrillLine, left, at, right, at, -0.5)
	st.sky.add(left, right, at-0.4, at+0.4)
}

// pedalLine draws a pedal's line with its hooks, and a peak where the pedal is
// changed.
func (s *system) pedalLine(st *staffInk, sp *Spanner, left, right float64, begins, ends bool) {
	above := sp.Side == Above
	at := st.sky.below(left, right) + 1.4
	if above {
		at = st.sky.above(left, right) - 1.4
	}
	if ends {
		right -= 0.3
	}
	points := []float64{left, at}
	if begins && sp.Begin == HookUp {
		points = []float64{left, at - 0.8, left, at}
	} else if begins {
		left += shape{name: "pedal"}.width() + 0.3 // after the sign
		points = []float64{left, at}
	}
	for _, change := range sp.Changes {
		if change.Bar < s.first || change.Bar >= s.end {
			continue
		}
		if x := s.xAt(change.Bar, change.Onset); x > left+0.5 && x < right-0.5 {
			points = append(points, x-0.4, at, x, at-0.8, x+0.4, at)
		}
	}
	points = append(points, right, at)
	if ends && sp.End == HookUp {
		points = append(points, right, at-0.8)
	}
	st.line(display.RolePedalLine, points...)
	st.sky.add(left, right, at-0.9, at+0.2)
}

// bracketLine draws a line with its text and hooks.
func (st *staffInk) bracketLine(sp *Spanner, left, right float64, begins, ends bool) {
	above := sp.Side != Below
	if ends {
		right -= 0.3
	}
	right = max(right, left+1)
	text := ""
	if begins {
		text = sp.Text
	}
	width := textWidth(display.RoleWords, text)
	at := st.sky.below(left, max(right, left+width)) + 1.4
	if above {
		at = st.sky.above(left, max(right, left+width)) - 1.2
	}
	start := left
	if text != "" {
		st.text(display.RoleWords, display.Start, text, left, at+0.45)
		start += width + 0.4
	}
	if start < right {
		st.styled(display.RoleBracketLine, sp.Line, start, at, right, at)
	}
	if begins && text == "" {
		st.hook(sp.Begin, start, at, 1)
	}
	if ends {
		st.hook(sp.End, right, at, -1)
	}
	st.sky.add(left, max(right, left+width), at-0.9, at+0.9)
}

// hook draws the end of a bracket; inwards is 1 at its beginning and −1 at its end.
func (k *ink) hook(h Hook, x, at, inwards float64) {
	switch h {
	case HookUp:
		k.line(display.RoleBracketLine, x, at, x, at-0.8)
	case HookDown:
		k.line(display.RoleBracketLine, x, at, x, at+0.8)
	case HookBoth:
		k.line(display.RoleBracketLine, x, at-0.8, x, at+0.8)
	case HookArrow:
		k.line(display.RoleBracketLine, x+inwards*0.5, at-0.35, x, at, x+inwards*0.5, at+0.35)
	}
}
