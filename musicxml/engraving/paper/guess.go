package paper

import (
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/display"
)

// barInk is what is known of a bar before the line is drawn on which it is to stand:
// how far its ink reached over and below the staves on another line, slice by slice,
// and how much of that line's width it took.
type barInk struct {
	staves, width display.Spaces
	upper, lower  []float32
	joined        bool // it has several staves that are shown
}

// oneStaff is the height of a staff of five lines.
const oneStaff display.Spaces = 4

// usualInk is what a bar is taken for before any line with it is drawn: music is nil where
// the player is silent all through.
func usualInk(music *engraving.Music, bar int) barInk {
	staves := 0
	if music != nil {
		for s := range music.Staves {
			if list := music.Staves[s].Measures; bar < len(list) && !list[bar].Hidden {
				staves++
			}
		}
	}
	return barInk{staves: oneStaff + 9*display.Spaces(max(1, staves)-1), width: 10, upper: []float32{2}, lower: []float32{2.5}, joined: staves > 1}
}

// guesses are profiles of lines that were not drawn. Their memory is used again when
// all are guessed anew.
type guesses struct {
	width    display.Spaces // of the lines
	slices   int
	profiles []*profile
	used     int
}

// begin forgets all profiles.
func (g *guesses) begin(width display.Spaces) {
	if n := int(width/slice) + 1; n != g.slices {
		g.slices, g.profiles = n, nil
	}
	g.width, g.used = width, 0
}

// next is an empty profile.
func (g *guesses) next() *profile {
	if g.used == len(g.profiles) {
		ink := make([]float32, 2*g.slices)
		g.profiles = append(g.profiles, &profile{upper: ink[:g.slices:g.slices], lower: ink[g.slices:]})
	}
	o := g.profiles[g.used]
	g.used++
	clear(o.upper)
	clear(o.lower)
	*o = profile{upper: o.upper, lower: o.lower}
	return o
}

// profile is that of a line of bars, as it is taken for: each bar has its share of the
// width, over which its ink is spread, times trust.
func (g *guesses) profile(bars []barInk, trust float32) *profile {
	o, n, width := g.next(), g.slices, g.width
	total := display.Spaces(0)
	for i := range bars {
		total += bars[i].width
	}
	at := display.Spaces(0)
	for i := range bars {
		b := &bars[i]
		o.staves, o.joined = max(o.staves, b.staves), o.joined || b.joined
		from := int(at / total * width / slice)
		at += b.width
		to := min(max(from+1, int(at/total*width/slice)), n)
		o.spread(b, from, to, trust)
	}
	return o
}

// spread gives a bar's ink to the slices from one to before another.
func (o *profile) spread(b *barInk, from, to int, trust float32) {
	for k := from; k < to; k++ {
		i := (k - from) * len(b.upper) / (to - from)
		o.upper[k], o.lower[k] = max(o.upper[k], trust*b.upper[i]), max(o.lower[k], trust*b.lower[i])
		o.rises, o.hangs = max(o.rises, display.Spaces(o.upper[k])), max(o.hangs, display.Spaces(o.lower[k]))
	}
}

// learn takes over what a line that was drawn says of its bars.
func learn(bars []barInk, system *display.System, o *profile) {
	edges := barEdges(system)
	if len(edges) != len(bars)+1 {
		return
	}
	for i := range bars {
		from := min(int(edges[i]/slice), len(o.upper)-1)
		to := min(max(from, int(edges[i+1]/slice)), len(o.upper)-1) + 1
		staves := o.staves
		if o.joined && !bars[i].joined {
			staves = oneStaff // beside bars that have more
		}
		bars[i] = barInk{staves: staves, joined: bars[i].joined, width: max(1, edges[i+1]-edges[i]), upper: o.upper[from:to], lower: o.lower[from:to]}
	}
}

// barEdges are where the bars of a line begin, and where the last ends.
func barEdges(system *display.System) (edges []display.Spaces) {
	for _, item := range system.Staves[0].Items {
		if g, ok := item.Shape.(display.Group); ok && item.Role == display.RoleBar {
			edges = append(edges, g.Bounds().Left)
		}
	}
	if len(edges) > 0 {
		edges[0] = 0 // clef and signatures go with the first bar
	}
	return append(edges, system.Width)
}
