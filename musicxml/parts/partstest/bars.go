package partstest

import (
	"slices"

	"deskpart/musicxml"
)

// bars checks that the measures, their numbers and their lengths are the score's,
// so that voices fill them and backup and forward balance (coverage 15.7, table
// (a): bars, their numbers, metres equal).
func (c *checker) bars() {
	source := c.source.timeline.Measures
	if len(c.timeline.Measures) != len(source) {
		c.fault("%d measures instead of %d", len(c.timeline.Measures), len(source))
		return
	}
	for i := range source {
		want, got := &source[i], &c.timeline.Measures[i]
		if got.Number != want.Number {
			c.fault("measure %d has number %q instead of %q", i, got.Number, want.Number)
		}
		length := want.Length
		if silent(want) {
			length = c.lengths[i]
		}
		if got.Length != length && got.Length != want.Length {
			c.fault("measure %s lasts %s quarter notes instead of %s", got.Number, got.Length, length)
		}
	}
	if len(source) > 0 && text(c.timeline.Measures[0].Element, "attributes", "divisions") == "" {
		c.fault("the first measure has no divisions")
	}
	if c.Player {
		c.voicesFill()
	}
}

// silent reports whether nothing but rests stands in a measure.
func silent(m *musicxml.Measure) bool {
	return !slices.ContainsFunc(m.Events, func(ev musicxml.Event) bool { return ev.Kind == musicxml.Note && !ev.Rest })
}

// voicesFill checks that the first voice of a player's part leaves no gap.
func (c *checker) voicesFill() {
	for i := range c.timeline.Measures {
		m := &c.timeline.Measures[i]
		var reached musicxml.Fraction
		for _, ev := range m.Events {
			if ev.Kind != musicxml.Note || ev.Chord || ev.Grace || ev.Cue || ev.Voice != "1" {
				continue
			}
			if reached.Less(ev.Onset) {
				c.fault("measure %s: a gap before beat %s", m.Number, m.Beat(ev.Onset))
			}
			reached = ev.Onset.Add(ev.Duration)
		}
	}
}
