package partstest

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// rests checks the multi-bar rests: their count equals the empty bars, nothing
// breaks them, and no run that nothing breaks was left out (table (a): w-rest,
// wmgso, w3c-xsd).
func (c *checker) rests() {
	measures := c.timeline.Measures
	under := make([]int, len(measures)) // the count that a measure stands under, from its first
	for i := range measures {
		n := c.count(&measures[i])
		if n == 0 {
			continue
		}
		if c.RestBars == 0 || n < c.RestBars {
			c.fault("measure %s: a multi-bar rest of %d", measures[i].Number, n)
		}
		for k := i; k < i+n; k++ {
			if k >= len(measures) || under[k] > 0 {
				c.fault("measure %s: a multi-bar rest of %d runs into the next", measures[i].Number, n)
				return
			}
			under[k] = i + 1
			c.inRest(&measures[k], k == i, k == i+n-1)
		}
	}
	c.leftOut(under)
	c.wholeBars()
}

func (c *checker) count(m *musicxml.Measure) int {
	n := 0
	for _, e := range m.Element.FindElements("attributes/measure-style/multiple-rest") {
		n += atoi(e.Text())
	}
	return n
}

// inRest checks one measure of a multi-bar rest.
func (c *checker) inRest(m *musicxml.Measure, first, last bool) {
	if !silent(m) {
		c.fault("measure %s is counted as rest and has notes", m.Number)
	}
	if hasPause(m) {
		c.fault("measure %s is counted as rest and has a pause", m.Number)
	}
	for _, ev := range m.Events {
		if broken := breaking(m, &ev, first, last); broken != "" {
			c.fault("measure %s: a multi-bar rest runs across %s", m.Number, broken)
		}
	}
}

// breaking names what in a measure no multi-bar rest may run across.
func breaking(m *musicxml.Measure, ev *musicxml.Event, first, last bool) string {
	atStart := first && ev.Onset.Sign() <= 0
	atEnd := last && !ev.Onset.Less(m.Length)
	switch ev.Kind {
	case musicxml.Direction:
		if !atStart && !atEnd {
			for _, t := range ev.Element.FindElements("direction-type/*") {
				switch t.Tag {
				case "rehearsal", "segno", "coda", "metronome", "words":
					return t.Tag
				}
			}
		}
	case musicxml.Attributes:
		if ev.Element.SelectElement("time") != nil && !atStart && !atEnd {
			return "time"
		}
	case musicxml.Barline:
		return breakingBarline(ev.Element, first, last)
	}
	return ""
}

func breakingBarline(e *etree.Element, first, last bool) string {
	style := text(e, "bar-style")
	plain := style == "" || style == "regular" || style == "none"
	if plain && e.SelectElement("repeat") == nil && e.SelectElement("ending") == nil {
		return ""
	}
	if location := attr(e, "location"); location == "left" && first || location != "left" && location != "middle" && last {
		return ""
	}
	return "a bar line"
}

// leftOut looks for two empty bars side by side that are not in one multi-bar rest
// though nothing at all stands between them.
func (c *checker) leftOut(under []int) {
	if c.RestBars == 0 || c.RestBars > 2 {
		return
	}
	for i := 1; i < len(under); i++ {
		a, b := &c.timeline.Measures[i-1], &c.timeline.Measures[i]
		if under[i] > 0 && under[i] == under[i-1] {
			continue
		}
		if bare(a) && bare(b) && a.Length == b.Length && a.Length == c.lengths[i-1] && b.Length == c.lengths[i] {
			c.fault("measures %s and %s are empty and not in one multi-bar rest", a.Number, b.Number)
		}
	}
}

// bare reports whether a measure has one rest on each staff and nothing else.
func bare(m *musicxml.Measure) bool {
	if attr(m.Element, "implicit") == "yes" {
		return false
	}
	for _, e := range m.Element.ChildElements() {
		switch e.Tag {
		case "backup":
		case "note":
			if e.SelectElement("rest") == nil || e.SelectElement("notations") != nil || attr(e.SelectElement("rest"), "measure") != "yes" {
				return false
			}
		default:
			return false
		}
	}
	return true
}

// wholeBars checks that a bar in which the player does nothing has whole-bar rests
// that are seen and stand in their place.
func (c *checker) wholeBars() {
	for i := range c.timeline.Measures {
		m := &c.timeline.Measures[i]
		if !silent(m) {
			continue
		}
		rests := m.Element.FindElements("note/rest")
		for _, rest := range rests {
			if attr(rest.Parent(), "print-object") == "no" && len(rests) == 1 {
				c.fault("measure %s: the rest is hidden", m.Number)
			}
			if rest.SelectElement("display-step") != nil && len(rests) == 1 {
				c.fault("measure %s: the rest stands out of its place", m.Number)
			}
		}
	}
}
