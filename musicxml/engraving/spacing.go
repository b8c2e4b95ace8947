package engraving

import (
	"math"
)

// quarterSpace is the distance after a quarter note in an unstretched line, and
// spaceExponent how distances grow with time: twice as long is 1.46 times as wide.
const (
	quarterSpace  = 3.5
	spaceExponent = 0.55
	// longestSpace bounds it: a duration in a file may be any number.
	longestSpace = 40.0
)

// Distances in staff spaces.
const (
	cellGap     = 0.35 // between the ink of neighbouring columns
	graceGap    = 0.25
	barStartGap = 1.0 // from the barline to the first note
	barEndGap   = 0.7 // from the last ink to the barline
	emptyBar    = 6.0 // a bar with only a rest
	restBar     = 11.0
	signGap     = 0.8
	closingGap  = 0.55 // from a closing clef to the barline
)

// setIdeals works out the wanted distance after each column: by the shortest note
// sounding there, in proportion where another voice cuts it short.
func (p *barPlan) setIdeals() {
	var timed []*column
	for _, c := range p.columns {
		if c.order == 0 {
			timed = append(timed, c)
		}
	}
	var sounding []*Event
	for i, c := range timed {
		sounding = c.soundingWith(sounding)
		end := p.length
		if i+1 < len(timed) {
			end = timed[i+1].onset
		}
		gap := end.Sub(c.onset).Float()
		if math.IsNaN(gap) || gap <= 0 { // also where the times are beyond counting
			continue
		}
		shortest := max(gap, shortestOf(sounding))
		c.ideal = min(longestSpace, quarterSpace*math.Pow(shortest, spaceExponent)*gap/shortest)
	}
}

// soundingWith are the events, seen or unseen, that sound at a column: those of before
// that go on, and its own.
func (c *column) soundingWith(before []*Event) []*Event {
	sounding := before[:0]
	for _, e := range before {
		if c.onset.Less(e.Onset.Add(e.Duration)) {
			sounding = append(sounding, e)
		}
	}
	sounding = append(sounding, c.silent...)
	for i := range c.cells {
		for _, f := range c.cells[i].figures {
			sounding = append(sounding, f.event)
		}
	}
	return sounding
}

// shortestOf is the duration of the shortest of some events, in quarter notes; 0 where
// none has any.
func shortestOf(events []*Event) float64 {
	shortest := 0.0
	for _, e := range events {
		if d := e.Duration.Float(); d > 0 && (shortest == 0 || d < shortest) {
			shortest = d
		}
	}
	return shortest
}

// edges remembers where the ink of each staff and text row ends. It goes from bar to
// bar along a line: texts of the bars before may reach into the next.
type edges struct {
	staves []float64
	rows   []rowEdge
}

// begin has no ink in the way before x, on that many staves; texts still are.
func (e *edges) begin(staves int, x float64) {
	e.staves = e.staves[:0]
	for range staves {
		e.staves = append(e.staves, x)
	}
}

// rowEdge is how far the texts of a row reach on a staff, and how much of that the
// last of them may give.
type rowEdge struct {
	staff   int
	key     string
	x, give float64
	closed  bool
}

// least is the smallest x at which a column's ink clears what stands before it.
func (e *edges) least(c *column, gap float64) float64 {
	x := math.Inf(-1)
	for s := range c.cells {
		if c.cells[s].filled {
			x = max(x, e.staves[s]+gap-c.cells[s].left)
		}
		for _, row := range c.cells[s].rows {
			x = max(x, -row.left) // texts may not begin before the line does
			for _, old := range e.rows {
				if old.staff == s && old.key == row.key {
					x = max(x, old.x-row.left)
				}
			}
		}
	}
	return x
}

// pass records a column's ink at its x.
func (e *edges) pass(c *column) {
	for s := range c.cells {
		if c.cells[s].filled {
			e.staves[s] = max(e.staves[s], c.x+c.cells[s].right)
		}
		for _, row := range c.cells[s].rows {
			e.put(rowEdge{s, row.key, c.x + row.right, row.give, row.closed})
		}
	}
}

func (e *edges) put(row rowEdge) {
	for i := range e.rows {
		if e.rows[i].staff == row.staff && e.rows[i].key == row.key {
			if row.x > e.rows[i].x {
				e.rows[i] = row
			}
			return
		}
	}
	e.rows = append(e.rows, row)
}

// rowGap is the air after a text that need not be kept before the end of a line.
const rowGap = 0.3

// textEdge is where a barline that ends the line must stand for the texts of its
// rows.
func textEdge(rows []rowEdge) float64 {
	edge := math.Inf(-1)
	for _, row := range rows {
		edge = max(edge, row.x-row.give-rowGap)
	}
	return edge
}

// space gives every column of the bar its x, beginning at x (after the left
// barline), with ideal distances multiplied by stretch. Texts of the bars before
// reach as far as e says, which is brought up to date. It returns the x of the
// right barline.
func (p *barPlan) space(x, stretch float64, e *edges) float64 {
	p.start = x
	e.begin(len(p.closing), x+0.2)
	floor, signs := x+barStartGap*min(1, 0.6+0.4*stretch), true
	var last *column
	for i := 0; i < len(p.columns); {
		block := p.block(i)
		i += len(block)
		main := block[len(block)-1]
		if signs && main.order != 0 {
			floor = p.placeSigns(block, x, e)
			x, p.start = e.widest(), e.widest()
			continue
		}
		least := floor
		if last != nil {
			least = last.x + last.ideal*stretch
		}
		p.placeBlock(block, least, e, floor)
		signs = false
		last, floor = main, main.x
	}
	return p.finish(x, last, stretch, e)
}

// spaceRest gives a multi-bar rest its room: it grows with the texts over it.
func (p *barPlan) spaceRest(x, stretch float64, e *edges) float64 {
	e.begin(len(p.closing), x)
	signs := 0
	for signs < len(p.columns) && p.columns[signs].order != 0 {
		signs++
	}
	if signs > 0 {
		x = p.placeSigns(p.columns[:signs], x, e)
		e.begin(len(p.closing), x)
	}
	p.start = x
	end := x + restBar*min(stretch, 1.6) + p.closingWidth()
	for _, c := range p.columns[signs:] {
		c.x = max(x+0.3, e.least(c, 0))
		e.pass(c)
		for _, cell := range c.cells {
			for _, row := range cell.rows {
				end = max(end, c.x+row.right-rowGap)
			}
		}
	}
	p.end = max(p.finish(x, nil, stretch, e), end)
	return p.end
}

// block returns the columns from i up to and including the next of order 0; signs
// that no note follows stand alone.
func (p *barPlan) block(i int) []*column {
	j := i
	for j < len(p.columns)-1 && p.columns[j].order != 0 {
		if p.columns[j+1].onset != p.columns[j].onset {
			break
		}
		if p.columns[j].onset.Sign() <= 0 && p.columns[j].order <= orderTime && p.columns[j+1].order > orderTime {
			break // signs at the head of the bar stand apart
		}
		j++
	}
	return p.columns[i : j+1]
}

// placeSigns places the signs at the head of a bar and returns where the notes
// may begin.
func (p *barPlan) placeSigns(block []*column, x float64, e *edges) float64 {
	for _, c := range block {
		c.x = max(x+signGap, e.least(c, signGap))
		e.pass(c)
		x = e.widest()
	}
	for s := range e.staves {
		e.staves[s] = max(e.staves[s], x+0.25)
	}
	return x + barStartGap
}

func (e *edges) widest() float64 {
	x := math.Inf(-1)
	for _, s := range e.staves {
		x = max(x, s)
	}
	return x
}

// placeBlock places signs and grace notes close before their main column, which
// stands at least at x.
func (p *barPlan) placeBlock(block []*column, x float64, e *edges, floor float64) {
	main := block[len(block)-1]
	if len(block) == 1 {
		main.x = max(floor, x, e.least(main, main.gap()))
		e.pass(main)
		return
	}
	before := edges{staves: append([]float64(nil), e.staves...), rows: append([]rowEdge(nil), e.rows...)}
	at, gap := floor, 0.0
	for _, c := range block {
		c.x = max(at, before.least(c, max(c.gap(), gap)))
		gap = c.airBehind()
		if c == main {
			c.x = max(c.x, x)
		}
		before.pass(c)
		at = c.x
	}
	// What stands before the main column moves right, up to it.
	slack := main.x
	for i := len(block) - 2; i >= 0; i-- {
		c := block[i]
		room := math.Inf(1)
		for s := range c.cells {
			for _, right := range block[i+1:] {
				if c.cells[s].filled && right.cells[s].filled {
					room = min(room, right.x+right.cells[s].left-c.airBehind()-c.cells[s].right)
				}
			}
		}
		if !math.IsInf(room, 1) {
			c.x = max(c.x, min(room, slack))
		} else {
			c.x = max(c.x, slack-1.6)
		}
		slack = c.x
	}
	for _, c := range block {
		e.pass(c)
	}
}

// gap is the air that a column wants before it.
func (c *column) gap() float64 {
	switch {
	case c.order <= orderTime:
		return signGap * 0.75
	case c.order != 0:
		return graceGap
	}
	return cellGap
}

// airBehind is kept between what stands before the main column and what follows it: a
// signature is not to look like the accidentals of a note.
func (c *column) airBehind() float64 {
	if c.order <= orderTime {
		return signGap * 0.75
	}
	return graceGap
}

// finish places the closing clefs and returns the x of the right barline.
func (p *barPlan) finish(x float64, last *column, stretch float64, e *edges) float64 {
	end := x + emptyBar*min(1, 0.5+stretch/2)
	if last != nil {
		end = max(x, last.x+last.ideal*stretch)
	}
	if len(p.centered) > 0 {
		end = max(end, x+emptyBar*0.8+p.closingWidth())
	}
	for s := range e.staves {
		edge := e.staves[s] + barEndGap
		if p.closing[s].filled {
			edge = e.staves[s] + 0.5 + p.closing[s].right + closingGap
		}
		end = max(end, edge)
	}
	for _, row := range e.rows {
		if row.closed {
			end = max(end, row.x)
		}
	}
	p.end = end
	return end
}

// closingWidth is the room of clefs before the right barline.
func (p *barPlan) closingWidth() float64 {
	width := 0.0
	for _, c := range p.closing {
		if c.filled {
			width = max(width, c.right+0.9)
		}
	}
	return width
}
