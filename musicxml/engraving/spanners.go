package engraving

import (
	"math"
	"strings"

	"deskpart/musicxml/engraving/display"
)

// octaveTexts are the words of octave lines; the line runs above for those that
// sound higher.
var octaveTexts = map[SpannerKind]string{OctaveUp: "8va", OctaveDown: "8vb", TwoOctavesUp: "15ma", TwoOctavesDown: "15mb"}

// drawSpanners draws hairpins with the dynamics between them, then octave, trill,
// pedal and dashed lines.
func (s *system) drawSpanners(st *staffInk) {
	var levels []levelItem
	list := s.l.music.Staves[st.index].Spanners
	for i := range list {
		sp := &list[i]
		if sp.From.Bar >= s.end || sp.To.Bar < s.first {
			continue
		}
		left, right := s.spannerEnds(sp)
		bar := max(sp.From.Bar, s.first)
		st.ofBar(bar)
		switch sp.Kind {
		case Crescendo, Diminuendo:
			levels = append(levels, levelItem{bar: bar, left: left, right: right, hairpin: sp})
		case OctaveUp, TwoOctavesUp:
			st.octaveLine(sp, left, right, true)
		case OctaveDown, TwoOctavesDown:
			st.octaveLine(sp, left, right, false)
		case TrillLine:
			st.trillLine(left, right)
		case PedalLine:
			st.ruledLine(display.RolePedalLine, left, right, sp.Side == Above, -0.8)
		case DashedLine:
			if sp.From.Bar < s.first {
				sp = &Spanner{Kind: sp.Kind, Side: sp.Side} // the word stands on the line before
			}
			levels = append(levels, levelItem{bar: bar, left: left, right: max(right, left+textWidth(sp.Text, wordsSize)+1), dashes: sp})
		}
	}
	st.drawLevels(append(levels, s.levelMarks(st)...))
}

// levelMarks are the dynamics of a staff on this line, and the words under it.
func (s *system) levelMarks(st *staffInk) []levelItem {
	var list []levelItem
	for _, p := range s.bars {
		marks := s.l.music.Staves[st.index].Measures[p.index].Marks
		for i := range marks {
			m, x := &marks[i], s.xAt(p.index, marks[i].Onset)
			switch {
			case m.Kind == MarkDynamic:
				half := dynamicWidth(m.Text) / 2
				list = append(list, levelItem{bar: p.index, left: x + 0.6 - half, right: x + 0.6 + half, mark: m})
			case m.onLevel():
				list = append(list, levelItem{bar: p.index, left: x, right: x + textWidth(m.Text, wordsSize), mark: m})
			}
		}
	}
	return list
}

// onLevel tells whether words stand among the dynamics.
func (m *Mark) onLevel() bool { return m.Kind == MarkWords && m.Side == Below }

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
	return left, max(right, left+1.5)
}

// levelItem is a dynamic or hairpin: neighbours share one height.
type levelItem struct {
	bar         int
	left, right float64
	mark        *Mark
	hairpin     *Spanner
	dashes      *Spanner
}

func (i levelItem) above() bool {
	switch {
	case i.mark != nil:
		return i.mark.Side == Above
	case i.dashes != nil:
		return i.dashes.Side != Below
	}
	return i.hairpin.Side == Above
}

// drawLevels draws dynamics and hairpins in chains of neighbours, each chain on
// one height.
func (st *staffInk) drawLevels(items []levelItem) {
	for i := 1; i < len(items); i++ {
		for j := i; j > 0 && items[j].left < items[j-1].left; j-- {
			items[j], items[j-1] = items[j-1], items[j]
		}
	}
	for _, up := range []bool{true, false} {
		var chain []levelItem
		for _, it := range items {
			if it.above() != up {
				continue
			}
			if len(chain) > 0 && it.left-chain[len(chain)-1].right > 4 {
				st.drawChain(chain, up)
				chain = nil
			}
			chain = append(chain, it)
		}
		st.drawChain(chain, up)
	}
}

func (st *staffInk) drawChain(chain []levelItem, up bool) {
	if len(chain) == 0 {
		return
	}
	// Hairpins give way to the letters beside them.
	for i := range chain {
		for j := range chain {
			if chain[i].hairpin != nil && chain[j].mark != nil {
				trim(&chain[i], chain[j])
			}
		}
	}
	height := st.sky.bottom + 2.2
	if up {
		height = st.sky.top - 2.2
	}
	for _, it := range chain {
		if up {
			height = min(height, st.sky.above(it.left, it.right)-1.5)
		} else {
			height = max(height, st.sky.below(it.left, it.right)+1.5)
		}
	}
	for i, it := range chain {
		st.ofBar(it.bar)
		switch {
		case it.mark != nil && it.mark.Kind == MarkWords:
			st.chainWords(chain[:i], it, height)
		case it.mark != nil:
			st.dynamic(it.mark.Text, it.left, height+0.55)
		case it.dashes != nil:
			st.dashedLine(it, height)
		default:
			st.hairpin(it, height)
		}
		st.sky.add(it.left, it.right, height-1, height+1)
	}
}

// chainWords writes words among the dynamics; where they would run into what
// stands before, they go on the next line.
func (st *staffInk) chainWords(before []levelItem, it levelItem, height float64) {
	baseline := height + 0.45
	for _, other := range before {
		if other.right > it.left && other.left < it.right {
			baseline = height + 0.45 + wordsSize*1.1
			st.sky.add(it.left, it.right, baseline-1, baseline+0.4)
			break
		}
	}
	st.text(display.RoleWords, display.Start, it.mark.Text, it.left, baseline)
}

func trim(hairpin *levelItem, mark levelItem) {
	middle := (mark.left + mark.right) / 2
	switch {
	case middle <= hairpin.left+1.5 && mark.right+0.3 > hairpin.left:
		hairpin.left = mark.right + 0.3
	case middle >= hairpin.right-1.5 && mark.left-0.3 < hairpin.right:
		hairpin.right = mark.left - 0.3
	}
	hairpin.right = max(hairpin.right, hairpin.left+1)
}

func (st *staffInk) hairpin(it levelItem, height float64) {
	wide, narrow := it.right, it.left
	if it.hairpin.Kind == Diminuendo {
		wide, narrow = narrow, wide
	}
	st.line(display.RoleHairpin, wide, height-0.65, narrow, height, wide, height+0.65)
}

// dynamicAdvance is how far each dynamic letter moves the next, in staff spaces.
var dynamicAdvance = map[rune]float64{'p': 1.5, 'm': 1.95, 'f': 1.2, 'r': 1.25, 's': 1.05, 'z': 1.1}

func dynamicWidth(text string) float64 {
	width := 0.0
	for _, r := range text {
		advance, known := dynamicAdvance[r]
		if !known {
			return textWidth(text, wordsSize)
		}
		width += advance
	}
	return width
}

// dynamic draws the letters of a dynamic from their glyphs, other words as text.
func (st *staffInk) dynamic(text string, x, baseline float64) {
	if strings.Trim(text, "pmfrsz") != "" {
		st.text(display.RoleDynamic, display.Start, text, x, baseline)
		return
	}
	for _, r := range text {
		st.sign(display.RoleDynamic, shape{name: "dynamic-" + string(r)}, x, baseline, "")
		x += dynamicAdvance[r]
	}
}

func (st *staffInk) octaveLine(sp *Spanner, left, right float64, up bool) {
	if sp.Side != SideAuto {
		up = sp.Side == Above
	}
	right = max(right+1, left+3)
	text := octaveTexts[sp.Kind]
	width := textWidth(text, wordsSize)
	at, jog := st.sky.above(left, right)-0.9, 0.8
	if !up {
		at, jog = st.sky.below(left, right)+0.9+0.8, -0.8
	}
	st.text(display.RoleOctave, display.Start, text, left, at+0.45)
	st.line(display.RoleOctaveLine, left+width+0.3, at, right, at)
	st.line(display.RoleOctaveHook, right, at, right, at+jog)
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
	st.wave(display.RoleTrillLine, left, at, left+math.Ceil(right-left), at, -0.5)
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

// dashedLine writes its word and goes on with dashes.
func (st *staffInk) dashedLine(it levelItem, height float64) {
	left := it.left
	if text := it.dashes.Text; text != "" {
		st.text(display.RoleWords, display.Start, text, left, height+0.45)
		left += textWidth(text, wordsSize) + 0.4
	}
	if it.right-left > 1.5 {
		st.line(display.RoleDashes, left, height, it.right-0.4, height)
	}
}
