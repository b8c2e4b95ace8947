package fit

import (
	"cmp"
	"slices"
)

// sounding is a note while it sounds.
type sounding struct {
	start, end float64
	midi       int
	music      int
	bar        int // in which it begins, from 0
}

// soundings lists all notes in the order of their beginnings, and the length of
// the piece.
func soundings(all []Line) ([]sounding, float64) {
	var notes []sounding
	length := 1e-9
	for i, line := range all {
		for k := range line {
			n := &line[k]
			s := sounding{n.Start.Float(), n.end().Float(), n.midi(), i, n.Index}
			if length = max(length, s.end); s.end > s.start {
				notes = append(notes, s)
			}
		}
	}
	slices.SortStableFunc(notes, func(a, b sounding) int { return cmp.Compare(a.start, b.start) })
	return notes, length
}

// sweep calls do for every stretch of time in which the same notes sound.
func sweep(notes []sounding, do func(time float64, active []sounding)) {
	var times []float64
	for _, n := range notes {
		times = append(times, n.start, n.end)
	}
	slices.Sort(times)
	times = slices.Compact(times)
	var active []sounding
	next := 0
	for i := 0; i+1 < len(times); i++ {
		active = slices.DeleteFunc(active, func(n sounding) bool { return n.end <= times[i] })
		for next < len(notes) && notes[next].start <= times[i] {
			active = append(active, notes[next])
			next++
		}
		if len(active) > 0 {
			do(times[i+1]-times[i], active)
		}
	}
}
