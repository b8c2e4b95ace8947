package fit

import (
	"cmp"
	"slices"
)

// What a line counts for while it sounds. The outer voices carry the piece; a note
// that no other player has is missed, one that another doubles hardly.
const (
	asTop     = 3.0
	asBottom  = 2.0
	asInner   = 1.0
	asDoubled = 0.25
	asStrokes = 0.5 // of percussion without pitch, a bar with strokes
)

// sounding is a note while it sounds.
type sounding struct {
	start, end float64
	midi       int
	music      int
}

// importance weighs each player's music in the whole: the time for which it is the
// highest line, the lowest, one with a note of its own, or a doubling, in
// proportion to the length of the piece. It is above 0 for all that play anything.
func importance(all []*Music) []float64 {
	notes, length := soundings(all)
	weights := make([]float64, len(all))
	sweep(notes, func(time float64, active []sounding) {
		for music, points := range pointsOf(active) {
			weights[music] += points * time / length
		}
	})
	for i, m := range all {
		if m.silent() {
			continue
		}
		if m.Unpitched > 0 {
			weights[i] += asStrokes * busyShare(m)
		}
		weights[i] = max(weights[i], 1e-3)
	}
	return weights
}

func busyShare(m *Music) float64 {
	n := 0
	for _, busy := range m.busy {
		if busy {
			n++
		}
	}
	return float64(n) / float64(max(1, len(m.busy)))
}

// soundings lists all notes in the order of their beginnings, and the length of
// the piece.
func soundings(all []*Music) ([]sounding, float64) {
	var notes []sounding
	length := 1e-9
	for i, m := range all {
		for k := range m.Line {
			n := &m.Line[k]
			s := sounding{n.Start.Float(), n.end().Float(), n.midi(), i}
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

// pointsOf gives each music its points for the notes that sound together. Those
// that share the highest or the lowest note share its points.
func pointsOf(active []sounding) map[int]float64 {
	high, low := active[0].midi, active[0].midi
	for _, n := range active {
		high, low = max(high, n.midi), min(low, n.midi)
	}
	tops, bottoms := map[int]bool{}, map[int]bool{}
	owners := map[int]map[int]bool{} // of each pitch class
	for _, n := range active {
		if n.midi == high {
			tops[n.music] = true
		}
		if n.midi == low {
			bottoms[n.music] = true
		}
		if owners[n.midi%12] == nil {
			owners[n.midi%12] = map[int]bool{}
		}
		owners[n.midi%12][n.music] = true
	}
	points := map[int]float64{}
	for _, n := range active {
		p := asInner
		if len(owners[n.midi%12]) > 1 {
			p = asDoubled
		}
		if n.midi == low {
			p = max(p, asBottom/float64(len(bottoms)))
		}
		if n.midi == high {
			p = max(p, asTop/float64(len(tops)))
		}
		points[n.music] = max(points[n.music], p)
	}
	return points
}
