package collate

import (
	"cmp"
	"fmt"
	"strconv"

	"deskpart/musicxml"
)

// compareBars says which bars are missing or too many, and where their numbers
// part.
func (c *comparison) compareBars() {
	c.starts = make([]musicxml.Fraction, len(c.steps))
	now := musicxml.Fraction{}
	for i := range c.steps {
		c.starts[i] = now
		now = now.Add(c.scoresBar(i).length)
	}
	for i := 0; i < len(c.steps); {
		n := c.lonelyRun(i)
		if n > 0 {
			c.sayLonely(i, n)
		}
		i += max(n, 1)
	}
	c.compareNumbers()
}

// lonelyRun is how many steps from i on are bars of one side alone.
func (c *comparison) lonelyRun(i int) int {
	n := 0
	for i+n < len(c.steps) && (c.steps[i].want < 0) == (c.steps[i+n].want < 0) && (c.steps[i+n].want < 0 || c.steps[i+n].got < 0) {
		n++
	}
	return n
}

func (c *comparison) sayLonely(i, n int) {
	first, last := c.scoresBar(i), c.scoresBar(i+n-1)
	name, are, stand := "bar "+first.number, "is", "stands"
	if n > 1 {
		name, are, stand = "bars "+first.number+" to "+last.number, "are", "stand"
	}
	d := Difference{Measure: first.number, Kind: Bars, at: place{step: i}}
	switch {
	case c.steps[i].got < 0:
		d.Should, d.Text = name, name+" "+are+" missing"
	case c.doubled(i, n):
		d.Stands, d.Should = name+" twice", "once"
		d.Text = name + " " + stand + " twice"
	default:
		d.Stands, d.Text = name, name+" of the part "+are+" not in the score"
	}
	c.add(d)
}

// scoresBar is the score's bar of a step, or else the part's.
func (c *comparison) scoresBar(i int) *bar { return cmp.Or(c.barsOf(c.steps[i])) }

// doubled reports whether n bars of the part that the score has not say what the
// n bars before or behind them say.
func (c *comparison) doubled(i, n int) bool {
	first := c.steps[i].got
	return c.repeats(first-n, first, n) || c.repeats(first+n, first, n)
}

func (c *comparison) repeats(a, b, n int) bool {
	if a < 0 || a+n > len(c.got.bars) {
		return false
	}
	notes := 0
	for k := range n {
		x, y := &c.got.bars[a+k], &c.got.bars[b+k]
		notes += len(x.notes)
		if printOf(x, 0).hash != printOf(y, 0).hash {
			return false
		}
	}
	return notes > 0
}

// fewNumbers is how many times the numbering may part before it is said to be
// another one.
const fewNumbers = 4

// compareNumbers says where the part's bar numbers begin to be others than the
// score's. Bars that are missing or too many may or may not have been counted.
func (c *comparison) compareNumbers() {
	off, lost, said := 0, 0, 0
	for i, s := range c.steps {
		switch {
		case s.got < 0:
			lost--
			continue
		case s.want < 0:
			lost++
			continue
		}
		want, got := &c.want.bars[s.want], &c.got.bars[s.got]
		w, errW := strconv.Atoi(want.number)
		g, errG := strconv.Atoi(got.number)
		if errW != nil || errG != nil || want.implicit || got.implicit {
			continue
		}
		now := g - w
		if now != off && now != off+lost {
			if said++; said <= fewNumbers {
				c.add(Difference{Measure: want.number, Kind: Bars, Stands: fmt.Sprintf("bar number %d", g), Should: fmt.Sprintf("bar number %d", w),
					Text: fmt.Sprintf("the bar is numbered %d, and so on", g), at: place{step: i}})
			}
		}
		off, lost = now, 0
	}
}
