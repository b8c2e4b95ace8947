package partstest

import (
	"regexp"
	"slices"

	"deskpart/musicxml"
)

// cues checks cue notes that the copyist added: silent, with the player's own rests
// beside them, none in the bar of an entry, and words that say whose they are (table
// (a): w-cue, cueguides).
func (c *checker) cues() {
	if len(c.timeline.Measures) != len(c.source.timeline.Measures) {
		return
	}
	before := false
	for i := range c.timeline.Measures {
		m, source := &c.timeline.Measures[i], &c.source.timeline.Measures[i]
		if !hasCue(m) || hasCue(source) {
			before = false
			continue
		}
		if !c.Player && !silent(source) {
			c.fault("measure %s: cue notes where the player plays", m.Number)
		}
		if m.Element.FindElement("note/rest") == nil {
			c.fault("measure %s: cue notes without the player's own rest", m.Number)
		}
		if !before && m.Element.FindElement("direction/direction-type/words") == nil {
			c.fault("measure %s: cue notes begin without a word whose they are", m.Number)
		}
		for _, ev := range m.Events {
			if ev.Cue && ev.Element.SelectElement("tie") != nil {
				c.fault("measure %s: a cue note has a <tie>, which sounds", m.Number)
			}
		}
		before = true
	}
}

func hasCue(m *musicxml.Measure) bool {
	return slices.ContainsFunc(m.Events, func(ev musicxml.Event) bool { return ev.Cue })
}

// whoPlays are marks of a shared staff that a single player's part has no use for.
var whoPlays = regexp.MustCompile(`^\W*(a ?[2-4]|zu ?[2-4]|à ?[2-4]|[1-4]\.|I{1,3}\.)\W*$`)

// playersWords checks that no mark is left of who plays on a staff that is no
// longer shared (table (a): proof-notes).
func (c *checker) playersWords() {
	if !c.Player {
		return
	}
	for i := range c.timeline.Measures {
		m := &c.timeline.Measures[i]
		for _, w := range m.Element.FindElements("direction/direction-type/words") {
			if whoPlays.MatchString(w.Text()) {
				c.fault("measure %s: %q is left over from the shared staff", m.Number, w.Text())
			}
		}
	}
}
