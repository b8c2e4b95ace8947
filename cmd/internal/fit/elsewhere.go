package fit

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Elsewhere is a line that is played and has notes of one that is left out.
type Elsewhere struct {
	Part     string  `json:"part"`
	PartID   string  `json:"part_id"`
	PlanName string  `json:"plan_name"`
	Share    float64 `json:"share"` // of the other's time, at the same moment, in whatever octave
}

// Most lines that are named for one that is left out, and the least share that a further
// one adds to those before it.
const mostElsewhere, leastElsewhere = 3, 0.05

// mostPlaces is how many places a sentence lists.
const mostPlaces = 4

// momentOf is a stretch of time in which a note sounds that is left out.
type momentOf struct {
	time float64
	bar  int   // from 0
	by   []int // lines that are played and have the note
}

// hear tells where the notes of a line that is left out sound in those that are played, and
// in which bars in none.
func (c *caster) hear(u *Uncovered, line int, pairings []pairing) {
	moments := c.moments(line, pairings)
	total, nowhere := 0.0, 0.0
	var bars []int
	for _, m := range moments {
		total += m.time
		if len(m.by) == 0 {
			nowhere += m.time
			bars = append(bars, m.bar)
		}
	}
	if total == 0 {
		return
	}
	for _, other := range mostOf(moments, total, len(c.music)) {
		m := c.music[other]
		u.Elsewhere = append(u.Elsewhere, Elsewhere{m.Assignment.Name, m.Assignment.ID, m.planName, round(timeOf(moments, other) / total)})
	}
	slices.SortStableFunc(u.Elsewhere, func(a, b Elsewhere) int { return cmp.Compare(b.Share, a.Share) })
	u.Missing, u.MissingIn = roundUp(nowhere/total), c.music[line].ranges(bars)
	u.Text += u.whereElse()
}

// moments are those of a line. What an instrument of one line leaves out of chords is not
// heard.
func (c *caster) moments(line int, pairings []pairing) []momentOf {
	lines := make([]Line, len(c.music))
	for _, p := range pairings {
		m := c.music[p.music]
		lines[p.music] = m.Line
		if c.judge(p.music, c.instrumentOf(p)).lost > 0 {
			lines[p.music] = m.upper()
		}
	}
	lines[line] = c.music[line].Line
	notes, _ := soundings(lines)
	var all []momentOf
	sweep(notes, func(time float64, active []sounding) {
		for _, n := range active {
			if n.music == line {
				all = append(all, momentOf{time, n.bar, others(active, n)})
			}
		}
	})
	return all
}

// others are the lines that have a note, in whatever octave.
func others(active []sounding, n sounding) []int {
	var all []int
	for _, o := range active {
		if o.music != n.music && (o.midi-n.midi)%12 == 0 && !slices.Contains(all, o.music) {
			all = append(all, o.music)
		}
	}
	return all
}

// mostOf chooses the lines that together have most of the moments, the best first.
func mostOf(moments []momentOf, total float64, lines int) []int {
	var chosen []int
	rest := slices.Clone(moments)
	for len(chosen) < mostElsewhere {
		best, most := -1, 0.0
		for line := range lines {
			if time := timeOf(rest, line); time > most {
				best, most = line, time
			}
		}
		if best < 0 || len(chosen) > 0 && most < leastElsewhere*total {
			return chosen
		}
		chosen = append(chosen, best)
		rest = slices.DeleteFunc(rest, func(m momentOf) bool { return slices.Contains(m.by, best) })
	}
	return chosen
}

// timeOf adds up the moments that a line has.
func timeOf(moments []momentOf, line int) float64 {
	sum := 0.0
	for i := range moments {
		if slices.Contains(moments[i].by, line) {
			sum += moments[i].time
		}
	}
	return sum
}

// ranges writes bars by their numbers, those that follow each other as "12-19".
func (m *Music) ranges(bars []int) []string {
	slices.Sort(bars)
	bars = slices.Compact(bars)
	var all []string
	for i := 0; i < len(bars); {
		last := i
		for last+1 < len(bars) && bars[last+1] == bars[last]+1 {
			last++
		}
		text := m.numbers[bars[i]]
		if last > i {
			text += "-" + m.numbers[bars[last]]
		}
		all = append(all, text)
		i = last + 1
	}
	return all
}

// whereElse says it.
func (u *Uncovered) whereElse() string {
	var in []string
	for _, e := range u.Elsewhere {
		in = append(in, fmt.Sprintf("%s (%s)", e.PlanName, Percent(e.Share)))
	}
	switch {
	case len(in) == 0:
		return "; nothing of it sounds elsewhere"
	case u.Missing == 0:
		return "; all of it sounds elsewhere: " + strings.Join(in, ", ")
	}
	places := u.MissingIn
	more := ""
	if n := len(places) - mostPlaces; n > 1 {
		places, more = places[:mostPlaces], fmt.Sprintf(" and at %d more places", n)
	}
	return fmt.Sprintf("; %s of it sounds elsewhere: %s; the rest is missing, in bars %s%s", Percent(1-u.Missing), strings.Join(in, ", "), strings.Join(places, ", "), more)
}
