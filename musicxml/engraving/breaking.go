package engraving

import (
	"math"
	"slices"

	"deskpart/musicxml/engraving/display"
)

// Bars are the first and last bar that are to be drawn, counted from 1; 0 and 0
// where there are none.
func (l *Layout) Bars() (first, last int) {
	if l.from >= l.to {
		return 0, 0
	}
	return l.from + 1, l.to
}

// Line is a run of bars (counted from 1, both included) that can stand on one
// line, with what that costs: 0 is a line as wide as its music wants, and the cost
// grows with the square of how much it is stretched or squeezed. A line that is
// too full costs a thousand and more.
type Line struct {
	First, Last int
	Cost        float64
}

// LinesTo lists the lines that may end with a bar, the shortest first.
func (l *Layout) LinesTo(last int) []Line {
	l.measure()
	var lines []Line
	var width barWidth
	for begin := last - 1; begin >= l.from; begin-- {
		at := begin - l.from
		width.natural += l.widths[at].natural
		width.least += l.widths[at].least
		room := max(10, l.width-l.heads[at]-l.tails[last-1-l.from]-l.widths[last-1-l.from].over)
		lines = append(lines, Line{begin + 1, last, l.lineCost(begin, last, width.natural/room, width.least/room)})
		if width.least > 2*l.width || l.music.Bars[begin].NewLine {
			break
		}
	}
	return lines
}

// measure works out the widths of all bars, once.
func (l *Layout) measure() {
	if l.widths == nil {
		l.widths, l.heads, l.tails = l.barWidths(), l.headWidths(), l.tailWidths()
	}
}

// Break cuts the bars into the lines that together cost least.
func (l *Layout) Break() []Line {
	n := l.to - l.from
	if n <= 0 {
		return nil
	}
	cost, best := make([]float64, n+1), make([]Line, n+1)
	for end := 1; end <= n; end++ {
		cost[end] = math.Inf(1)
		for _, line := range l.LinesTo(l.from + end) {
			if c := cost[line.First-1-l.from] + line.Cost; c < cost[end] {
				cost[end], best[end] = c, line
			}
		}
	}
	var lines []Line
	for end := n; end > 0; end = best[end].First - 1 - l.from {
		lines = append(lines, best[end])
	}
	slices.Reverse(lines)
	return lines
}

// Draw draws bars (counted from 1, both included) as one line, without the text
// alternative that Describe adds. Stretch is that of
// the line before, which a last line that stays short takes over; 0 where there
// is none. It returns the line's own.
func (l *Layout) Draw(first, last int, stretch float64) (display.System, float64) {
	s, stretch := l.newSystem(first-1, last, stretch)
	return s.draw(), stretch
}

// barWidth is a bar's width unstretched, and squeezed as far as looks well; over is
// what a line that ends with it must add for texts that reach beyond the bar.
type barWidth struct{ natural, least, over float64 }

// squeeze is the smallest stretch of the ideal distances in a line of several bars.
const squeeze = 0.8

func (l *Layout) barWidths() []barWidth {
	widths := make([]barWidth, l.to-l.from)
	plans := make([]*barPlan, l.to-l.from)
	for i := range plans {
		plans[i] = l.planBar(l.from+i, false)
	}
	l.runOn(plans, 1, func(i int, width, over float64) { widths[i].natural, widths[i].over = width, over })
	l.runOn(plans, squeeze, func(i int, width, _ float64) { widths[i].least = width })
	return widths
}

// runOn spaces all bars as if they stood on one endless line, where texts push
// each other as they will on the true ones. It tells each bar's width with its
// barline, and how far texts reach beyond it.
func (l *Layout) runOn(plans []*barPlan, stretch float64, tell func(i int, width, over float64)) {
	x := 1000.0 // texts may begin left of the first note
	var e edges
	for i, p := range plans {
		begin := x
		x = l.spaceBar(p, x, stretch, &e)
		over := textEdge(e.rows) - x
		next := Barline{}
		if l.from+i+1 < l.to {
			next = l.music.Bars[l.from+i+1].Left
		}
		x += boundary(l.music.Bars[l.from+i].Right, next).width
		tell(i, x-begin, max(0, over))
	}
}

// restatedWidth is about that of an accidental in parentheses, and of the tie before it.
const restatedWidth = 2.0 + tieRoom

// headWidths is the room at the left of a line that begins with each bar.
func (l *Layout) headWidths() []float64 {
	widths := make([]float64, l.to-l.from)
	for i := range widths {
		if bar := l.from + i; i > 1 && !l.changesIn(bar-1) && !l.changesIn(bar) {
			widths[i] = widths[i-1] // the same signs
		} else {
			widths[i] = l.indentOf(bar) + prefixWidth(l.prefix(bar)) + 0.8
		}
	}
	for i := range widths {
		for s := range l.music.Staves {
			if len(l.restated(s, l.from+i)) > 0 {
				widths[i] += restatedWidth
				break
			}
		}
	}
	return widths
}

// changesIn reports whether clef, key or time change in a bar of any staff.
func (l *Layout) changesIn(bar int) bool {
	for s := range l.music.Staves {
		if len(l.music.Staves[s].Measures[bar].Changes) > 0 {
			return true
		}
	}
	return false
}

// tailWidths is the room of courtesy signs at the right of a line that ends with
// each bar.
func (l *Layout) tailWidths() []float64 {
	widths := make([]float64, l.to-l.from)
	for i := range widths {
		if w := prefixWidth(l.courtesy(l.from + i + 1)); w > 0 {
			widths[i] = w + 0.4
		}
	}
	return widths
}

// lineCost weighs a line of the bars begin to end, whose natural and least widths
// fill the given shares of the room.
func (l *Layout) lineCost(begin, end int, natural, least float64) float64 {
	switch {
	case least > 1 && end-begin > 1:
		return 1000 * least * least
	case end == l.to && natural < 1:
		return l.shortCost(begin, natural)
	}
	return math.Pow(math.Log(natural), 2) + 0.01
}

// shortCost weighs a last line, which may be short, but for a bar alone or a scrap of
// the width, where the lines before could take it in.
func (l *Layout) shortCost(begin int, natural float64) float64 {
	const fair, alone = 0.35, 0.2
	cost := 0.05
	if begin == l.from {
		return cost // all there is
	}
	if natural < fair {
		cost += 0.5 * math.Pow((fair-natural)/fair, 2)
	}
	if begin+1 == l.to && natural < 2*fair && l.music.Bars[begin].RestBars == 0 {
		cost += alone
	}
	return cost
}
