package collate

import (
	"fmt"
	"strconv"

	"deskpart/transpose/pitch"
)

// settleNotes makes differences of what was heard: what one cause explains is said
// once.
func (c *comparison) settleNotes() {
	c.settleRuns()
	c.settleBars()
	c.settleChords()
	for _, h := range c.heard {
		if h.kind != "" {
			c.add(Difference{Measure: h.measure, Beat: h.beat, Kind: h.kind, Stands: h.stands, Should: h.should, at: h.at})
		}
	}
}

// A passage is wrong as a whole where so many notes, at so many moments, lie the
// same interval away.
const (
	passageNotes   = 4
	passageMoments = 3
)

// settleRuns says once of a passage that it lies an interval too high or too low.
func (c *comparison) settleRuns() {
	for i := 0; i < len(c.heard); {
		n, moments := 1, 1
		for i+n < len(c.heard) && c.heard[i].kind == Pitch && c.heard[i+n].kind == Pitch && c.heard[i+n].off == c.heard[i].off {
			if c.heard[i+n].at != c.heard[i+n-1].at {
				moments++
			}
			n++
		}
		if n >= passageNotes && moments >= passageMoments && c.heard[i].isSteady() {
			c.sayPassage(c.heard[i : i+n])
		}
		i += n
	}
}

// isSteady reports whether a note lies whole semitones away, or whole places of an
// unpitched staff.
func (h *heard) isSteady() bool {
	return h.off%1000 == 0 || h.by == pitch.Interval{}
}

func (c *comparison) sayPassage(run []heard) {
	first, last := run[0], run[len(run)-1]
	high := "too high"
	if first.off < 0 {
		high = "too low"
	}
	stands := fmt.Sprintf("%d notes, to bar %s, beat %s, %s %s: %s first", len(run), last.measure, last.beat, intervalName(first), high, first.stands)
	c.add(Difference{Measure: first.measure, Beat: first.beat, Kind: Pitch, Stands: stands, Should: first.should, at: first.at})
	for i := range run {
		run[i].kind = ""
	}
}

// intervalName names the interval of a wrong note, without its direction.
func intervalName(h heard) string {
	if h.by.Diatonic == 0 && h.by.Chromatic == 0 {
		return strconv.Itoa(pitch.Abs(h.off)) + " places"
	}
	return h.by.WithArticle(pitch.English)
}

// barVerdict is what the notes of a bar came to as a whole.
type barVerdict int

const (
	single   barVerdict = iota // single differences, or none
	emptied                    // the score has notes and the part has none
	filled                     // the part has notes and the score has none
	otherBar                   // most notes differ
)

// mostlyWrong is how many differences there must be in a bar, and how many of a
// hundred notes must differ, for the bar as a whole to be another one.
const (
	wrongNotes = 6
	wrongShare = 50
)

// settleBars says once of a bar, or of several in a row, that all their notes are
// missing, too many or others.
func (c *comparison) settleBars() {
	starts := []int{}
	for i := range c.heard {
		if i == 0 || c.heard[i].at.step != c.heard[i-1].at.step {
			starts = append(starts, i)
		}
	}
	starts = append(starts, len(c.heard))
	for b := 0; b+1 < len(starts); {
		v := c.verdict(c.heard[starts[b]:starts[b+1]])
		n := 1
		for v != single && b+n+1 < len(starts) && c.heard[starts[b+n]].at.step == c.heard[starts[b+n-1]].at.step+1 &&
			c.verdict(c.heard[starts[b+n]:starts[b+n+1]]) == v {
			n++
		}
		if v != single {
			c.sayBars(c.heard[starts[b]:starts[b+n]], v)
		}
		b += n
	}
}

func (c *comparison) verdict(notes []heard) barVerdict {
	want, got := c.barsOf(c.steps[notes[0].at.step])
	wrong := wrongOf(notes)
	switch {
	case wrong < len(notes) && wrong < wrongNotes:
		return single
	case len(got.notes) == 0:
		return emptied
	case len(want.notes) == 0:
		return filled
	case wrong >= wrongNotes && wrong*100 >= wrongShare*len(notes):
		return otherBar
	}
	return single
}

// sayBars says once what a bar, or several in a row, came to.
func (c *comparison) sayBars(notes []heard, v barVerdict) {
	if len(notes) == 1 {
		return // one note is as well said by itself
	}
	first := notes[0]
	from, _ := c.barsOf(c.steps[first.at.step])
	to, _ := c.barsOf(c.steps[notes[len(notes)-1].at.step])
	bars := "the bar"
	if from != to {
		bars = "bars " + from.number + " to " + to.number
	}
	d := Difference{Measure: from.number, Beat: from.beat(first.at.onset), at: first.at}
	switch count := strconv.Itoa(len(notes)) + " notes"; v {
	case emptied:
		d.Kind, d.Stands, d.Should = Missing, "rests in "+bars, count+", "+first.should+" first"
	case filled:
		d.Kind, d.Stands, d.Should = Extra, count+" in "+bars+", "+first.stands+" first", "rests"
	default:
		d.Kind, d.Stands, d.Should = Pitch, fmt.Sprintf("other music in %s (%d of %s differ)", bars, wrongOf(notes), count), "the score's"
	}
	c.add(d)
	for i := range notes {
		notes[i].kind = ""
		c.otherBars[notes[i].at.step] = true
	}
}

// wrongOf counts the notes that differ.
func wrongOf(notes []heard) int {
	wrong := 0
	for _, h := range notes {
		if h.kind != "" {
			wrong++
		}
	}
	return wrong
}

// settleChords joins what differs in the same way in the notes of one chord.
func (c *comparison) settleChords() {
	for i := range c.heard {
		h := &c.heard[i]
		if h.kind == "" {
			continue
		}
		for k := i + 1; k < len(c.heard) && c.heard[k].at == h.at; k++ {
			o := &c.heard[k]
			if o.kind != h.kind || o.off != h.off {
				continue
			}
			if h.kind != Rhythm {
				h.stands, h.should = listed(h.stands, o.stands), listed(h.should, o.should)
			} else if o.should != h.should {
				continue
			}
			o.kind = ""
		}
	}
}

func listed(a, b string) string {
	if a == "" {
		return b
	}
	return a + ", " + b
}
