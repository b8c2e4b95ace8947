package partstest

import (
	"deskpart/musicxml"
)

// pauses checks that where any part has a pause the part has one in that bar, or
// the copyist said that the player plays on (table (a); harris s.50).
func (c *checker) pauses() {
	if len(c.timeline.Measures) != len(c.lengths) {
		return
	}
	for i := range c.timeline.Measures {
		m := &c.timeline.Measures[i]
		paused := false
		for k := range c.parts {
			if i < len(c.parts[k].timeline.Measures) {
				paused = paused || hasPause(&c.parts[k].timeline.Measures[i])
			}
		}
		switch here := hasPause(m); {
		case paused && !here && !c.Warned[m.Number]:
			c.fault("measure %s: other parts have a pause", m.Number)
		case here && !paused:
			c.fault("measure %s: a pause that no part of the score has", m.Number)
		}
	}
}

func hasPause(m *musicxml.Measure) bool {
	return m.Element.FindElement("note/notations/fermata") != nil || m.Element.FindElement("barline/fermata") != nil
}
