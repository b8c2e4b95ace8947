package proof

import (
	"fmt"
	"html"
	"maps"
	"math"
	"slices"
	"strings"
)

// The plot's measures in pixels of the screen: it is as wide as a line of music.
const (
	plotWidth  = 662.0
	plotLeft   = 44.0 // room for the names of the pitches
	plotBottom = 16.0 // room for the numbers of the bars
	plotTop    = 4.0  // room for the upper half of a name
	plotHeight = 96.0 // at most, without that room
)

// plot draws the part's notes in time against the range: two bands, and a stroke
// for each note.
type plot struct {
	*Range
	numbers  []string
	low, top float64 // MIDI numbers at the bottom and at the top
	scale    float64 // pixels a semitone
	out      strings.Builder
}

func newPlot(r *Range, numbers []string) *plot {
	p := &plot{Range: r, numbers: numbers, low: r.full[0], top: r.full[1]}
	for _, d := range r.dots {
		p.low, p.top = min(p.low, d.midi), max(p.top, d.midi)
	}
	p.low, p.top = p.low-1, p.top+1
	p.scale = min(2.4, plotHeight/(p.top-p.low))
	return p
}

func (p *plot) height() float64 { return (p.top - p.low) * p.scale }

func (p *plot) y(midi float64) float64 { return (p.top - midi) * p.scale }

func (p *plot) x(time float64) float64 {
	if p.length <= 0 {
		return plotLeft
	}
	return plotLeft + time/p.length*(plotWidth-plotLeft)
}

// svg draws the plot with a text alternative.
func (p *plot) svg(id, title, text string) string {
	fmt.Fprintf(&p.out, `<svg class="plot" role="img" aria-labelledby="%s-t %s-d" viewBox="0 -%s %s %s"><title id="%s-t">%s</title><desc id="%s-d">%s</desc>`,
		id, id, px(plotTop), px(plotWidth), px(plotTop+p.height()+plotBottom), id, html.EscapeString(title), id, html.EscapeString(text))
	p.band("full", p.full)
	p.band("comfortable", p.comfortable)
	p.edgeNames()
	p.barNumbers()
	for _, c := range []struct {
		place place
		class string
	}{{comfortable, "dots"}, {uncomfortable, "dots strained"}, {beyond, "dots beyond"}, {elsewhere, "dots elsewhere"}} {
		if d := p.strokes(c.place); d != "" {
			fmt.Fprintf(&p.out, `<path class="%s" d="%s"/>`, c.class, d)
		}
	}
	p.out.WriteString("</svg>\n")
	return p.out.String()
}

func (p *plot) band(class string, edges [2]float64) {
	fmt.Fprintf(&p.out, `<rect class="%s" x="%s" y="%s" width="%s" height="%s"/>`, class, px(plotLeft), px(p.y(edges[1]+0.5)),
		px(plotWidth-plotLeft), px((edges[1]-edges[0]+1)*p.scale))
}

// edgeNames names the ends of the bands, those of the comfortable one where there
// is room.
func (p *plot) edgeNames() {
	const room = 11
	p.edgeName(3)
	p.edgeName(0)
	high, low := p.y(float64(p.edges[2].MIDI())), p.y(float64(p.edges[1].MIDI()))
	if high-p.y(p.full[1]) >= room {
		p.edgeName(2)
	}
	if p.y(p.full[0])-low >= room && low-high >= room {
		p.edgeName(1)
	}
}

func (p *plot) edgeName(i int) {
	fmt.Fprintf(&p.out, `<text x="%s" y="%s" text-anchor="end">%s</text>`, px(plotLeft-5), px(p.y(float64(p.edges[i].MIDI()))+3.5), printed(p.edges[i].String()))
}

// barNumbers marks round numbers of bars, a dozen at most.
func (p *plot) barNumbers() {
	step := 1
	for _, next := range []int{2, 5, 10, 20, 25, 50, 100, 200, 250, 500, 1000, 2000, 5000} {
		if len(p.numbers)/step > 12 {
			step = next
		}
	}
	d := ""
	for i := range p.starts {
		if i != 0 && (i+1)%step != 0 {
			continue
		}
		x := p.x(p.starts[i])
		d += "M" + px(x) + " 0V" + px(p.height())
		anchor := "middle"
		if x > plotWidth-12 {
			anchor = "end"
		}
		fmt.Fprintf(&p.out, `<text x="%s" y="%s" text-anchor="%s">%s</text>`, px(x), px(p.height()+12), anchor, html.EscapeString(p.numbers[i]))
	}
	fmt.Fprintf(&p.out, `<path class="grid" d="%s"/>`, d)
}

// strokes draws the notes of one kind as level strokes, row by row, those that
// touch as one; moves count from the end of the stroke before.
func (p *plot) strokes(kind place) string {
	rows := map[float64][][2]int{}
	for _, d := range p.dots {
		if d.place == kind {
			from := int(math.Round(p.x(d.start)))
			to := max(from+1, int(math.Round(p.x(d.start+d.length))))
			rows[d.midi] = append(rows[d.midi], [2]int{from, to})
		}
	}
	var d strings.Builder
	for _, midi := range slices.Sorted(maps.Keys(rows)) {
		end := -1
		for _, s := range joined(rows[midi]) {
			if end < 0 {
				fmt.Fprintf(&d, "M%d %s", s[0], px(p.y(midi)))
			} else {
				fmt.Fprintf(&d, "m%d 0", s[0]-end)
			}
			fmt.Fprintf(&d, "h%d", s[1]-s[0])
			end = s[1]
		}
	}
	return d.String()
}

// joined puts strokes in order and joins those that touch.
func joined(strokes [][2]int) [][2]int {
	slices.SortFunc(strokes, func(a, b [2]int) int { return a[0] - b[0] })
	kept := strokes[:1]
	for _, s := range strokes[1:] {
		if last := &kept[len(kept)-1]; s[0] <= last[1] {
			last[1] = max(last[1], s[1])
		} else {
			kept = append(kept, s)
		}
	}
	return kept
}

// px writes pixels with at most one decimal.
func px(v float64) string {
	return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0")
}
