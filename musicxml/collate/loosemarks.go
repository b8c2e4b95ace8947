package collate

import (
	"cmp"
	"slices"
	"strings"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// settleMarks makes differences of the marks that were left loose. What belongs to
// the notes of a bar is not missed where the whole bar is another one. First comes
// what stands in another's place, then what stands elsewhere, then what is missing or
// too much. Of something long that is lost only one end is missed.
func (c *comparison) settleMarks() {
	c.ends = map[spanOf][]*loose{}
	for _, l := range c.loose {
		l.said = c.otherBars[l.at.step] && isPlayers(l.mark)
		if l.mark.last {
			c.ends[l.span()] = append(c.ends[l.span()], l)
		}
	}
	c.settleLyrics()
	c.replaced()
	c.movedElsewhere()
	c.dropExcused()
	said := map[spanOf]bool{}
	for _, l := range c.loose {
		if l.said || l.mark.span > 0 && said[l.span()] {
			continue
		}
		if l.mark.span > 0 {
			said[l.span()] = true
		}
		if l.lost {
			l.find("", l.mark.text)
		} else {
			l.find(l.mark.text, "")
		}
	}
}

// spanOf names a slur, hairpin or ending of one side.
type spanOf struct {
	lost bool
	span int
}

func (l *loose) span() spanOf { return spanOf{l.lost, l.mark.span} }

func (l *loose) find(stands, should string) {
	l.said = true
	l.bar.find(l.at.onset, l.mark.kind, stands, should)
}

// dropExcused leaves out what the part may have although its staff in the score
// has not, and bar lines that come or go with a repeat.
func (c *comparison) dropExcused() {
	for i, l := range c.loose {
		l.said = l.said || !l.lost && c.excused(l) || l.lost && l.bar.excused && isPlayers(l.mark) || l.mark.facet == "bar line" && c.withRepeat(i)
	}
}

// isPlayers reports whether a mark is one player's own, who may rest meanwhile.
func isPlayers(m *mark) bool {
	switch m.kind {
	case Dynamics, Text, Articulation, Slur, Lyrics:
		return true
	}
	return false
}

// excused reports whether the part may have a mark: what another staff says to
// everybody, what else its shared staff says, the names at cue notes, a final
// bar line at the end.
func (c *comparison) excused(l *loose) bool {
	if c.staffHas(c.steps[l.at.step].want, l.mark) {
		return true
	}
	switch l.mark.facet {
	case "words", "metronome", "rehearsal", "segno", "coda", "fermata", "bar line", "caesura":
		if c.scoreSays != nil && c.scoreSays(c.steps[l.at.step].want, l.mark) {
			return true
		}
	}
	return l.mark.facet == "words" && l.bar.got.cued || l.mark.facet == "bar line" && l.at.step == len(c.steps)-1
}

// withRepeat reports whether a bar line stands alone because a repeat sign is
// missing there, or is missing because one stands there.
func (c *comparison) withRepeat(i int) bool {
	l := c.loose[i]
	return slices.ContainsFunc(c.around(i, 0), func(o *loose) bool { return o.lost != l.lost && o.mark.facet == "repeat end" })
}

// around are the loose marks at most so many steps from mark i.
func (c *comparison) around(i, steps int) []*loose {
	first, last, at := i, i+1, c.loose[i].at.step
	for first > 0 && at-c.loose[first-1].at.step <= steps {
		first--
	}
	for last < len(c.loose) && c.loose[last].at.step-at <= steps {
		last++
	}
	return c.loose[first:last]
}

// replaced pairs what stands at one place with what should: p for f.
func (c *comparison) replaced() {
	for i, l := range c.loose {
		if l.said || !l.lost {
			continue
		}
		for _, o := range c.around(i, 0) {
			if !o.said && !o.lost && o.mark.facet == l.mark.facet && !o.mark.says(l.mark) && !isLong(l.mark) && !c.excused(o) && o.at.onset.Sub(l.at.onset).Abs().Less(closeBy) {
				o.said = true
				c.sayReplaced(l, o)
				c.sayEnds(l, o)
				break
			}
		}
	}
}

// sayReplaced says that p stands for f. Of a part that is said to be transposed wrongly as a
// whole, a chord symbol that reads as in the score is no fault of its own; elsewhere it
// is one that was not transposed.
func (c *comparison) sayReplaced(l, o *loose) {
	switch same := l.mark.facet == "harmony" && l.mark.text == o.mark.text; {
	case same && c.by != pitch.Interval{}:
		l.said = true
	case same:
		l.find(o.mark.text+", as in the score", "one transposed as the notes are")
	default:
		l.find(o.mark.text, l.mark.text)
	}
}

// isLong reports whether a mark is one end of something that is not told apart by
// what it says.
func isLong(m *mark) bool { return m.span > 0 && m.key == "" }

// sayEnds leaves unsaid the other ends of two spans of which one stands in place
// of the other, where they too stand in each other's place.
func (c *comparison) sayEnds(l, o *loose) {
	if l.mark.span == 0 {
		return
	}
	for _, side := range []*loose{l, o} {
		for _, end := range c.ends[side.span()] {
			end.said = true
		}
	}
}

// How many bars away a mark is still taken for the one that is missing.
const (
	farRehearsal = 200
	farMark      = 2
	farSign      = 0 // signs at notes belong to their notes
)

// movedElsewhere pairs what is missing at one place with the same that is too much
// at another.
func (c *comparison) movedElsewhere() {
	for i, l := range c.loose {
		if l.said || !l.lost {
			continue
		}
		if o := c.elsewhere(i); o != nil {
			o.said, l.said = true, true
			c.sayMoved(l, o)
		}
	}
}

// elsewhere finds the nearest mark that says the same.
func (c *comparison) elsewhere(i int) *loose {
	var best *loose
	l := c.loose[i]
	for _, o := range c.around(i, reach(l.mark)) {
		if o.said || o.lost || !sameMark(l.mark, o.mark) {
			continue
		}
		if best == nil || c.away(l, o).Less(c.away(l, best)) {
			best = o
		}
	}
	return best
}

// reach is how many bars away the same mark is looked for.
func reach(m *mark) int {
	switch {
	case m.kind == Rehearsal:
		return farRehearsal
	case m.kind == Articulation && m.span == 0, m.kind == Lyrics:
		return farSign
	}
	return farMark
}

func (c *comparison) away(a, b *loose) musicxml.Fraction {
	return c.time(a.at).Sub(c.time(b.at)).Abs()
}

// time is when a place comes, in quarter notes from the start of the piece.
func (c *comparison) time(at place) musicxml.Fraction { return c.starts[at.step].Add(at.onset) }

// sayMoved says that a mark stands elsewhere; not of a hairpin or words that are
// only on the other side of a bar line.
func (c *comparison) sayMoved(l, o *loose) {
	if isLoose(l.mark) && c.away(l, o).Less(closeBy) {
		return
	}
	where := func(x *loose) string {
		beat := x.bar.beatAt(x.at.onset)
		place := "in bar " + x.bar.want.number
		if x.at.step == l.at.step && x.at.step == o.at.step {
			place = ""
		}
		if beat != "" && l.mark.kind != Rehearsal {
			place = strings.TrimSpace(place + " on beat " + beat)
		}
		return cmp.Or(place, "at the end of the bar")
	}
	l.find(l.mark.text+" "+where(o), where(l))
	if l.mark.span > 0 && !l.mark.last {
		c.sayEnds(l, o)
	}
}

// fewLyrics is how many syllables may differ in a row before the words as a whole
// do.
const fewLyrics = 3

// settleLyrics says once that the words differ over a stretch.
func (c *comparison) settleLyrics() {
	var run []*loose
	flush := func() {
		if len(run) > fewLyrics {
			first, last := run[0], run[len(run)-1]
			first.find("other sung words, to bar "+last.bar.want.number, first.firstText(run))
			for _, l := range run {
				l.said = true
			}
		}
		run = nil
	}
	for _, l := range c.loose {
		if l.mark.kind != Lyrics || l.said {
			continue
		}
		if len(run) > 0 && l.at.step-run[len(run)-1].at.step > 1 {
			flush()
		}
		run = append(run, l)
	}
	flush()
}

// firstText is the first of the score's syllables in a run.
func (l *loose) firstText(run []*loose) string {
	for _, o := range run {
		if o.lost {
			return o.mark.text + " first"
		}
	}
	return "none"
}
