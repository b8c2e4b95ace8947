package partstest

import (
	"github.com/beevik/etree"

	"deskpart/transpose/pitch"
)

// spansOf counts what is opened and not closed, by element name: lines, slurs,
// ties, wedges, beams, endings.
func spansOf(part *etree.Element) map[string]int {
	open := map[string]int{}
	each(part, func(e *etree.Element) {
		switch e.Tag {
		case "beam":
			switch text(e) {
			case "begin":
				open["beam"]++
			case "end":
				open["beam"]--
			}
		case "slur", "tied", "tie", "tuplet", "glissando", "slide", "wavy-line", "wedge", "dashes", "bracket", "octave-shift",
			"pedal", "tremolo", "ending", "beat-repeat", "measure-repeat", "slash", "metronome-tied":
			open[e.Tag] += opening(attr(e, "type"))
		}
	})
	return open
}

func opening(kind string) int {
	switch kind {
	case "start", "crescendo", "diminuendo", "up", "down", "sostenuto":
		return 1
	case "stop", "discontinue":
		return -1
	}
	return 0
}

// spansClosed checks that every start has its stop, as far as the source has them
// (coverage 15.6).
func (c *checker) spansClosed() {
	for tag, open := range spansOf(c.part) {
		if pitch.Abs(open) <= pitch.Abs(c.source.spans[tag]) {
			continue
		}
		for i := range c.parts { // an ending that no part closes stays open
			if tag == "ending" && pitch.Abs(c.parts[i].spans[tag]) >= pitch.Abs(open) {
				open = 0
			}
		}
		if open != 0 {
			c.fault("<%s>: %+d starts without stops; the source has %+d", tag, open, c.source.spans[tag])
		}
	}
}
