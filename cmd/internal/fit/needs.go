package fit

import (
	"math"
	"slices"

	"deskpart/musicxml/parts/octaves"
)

// What a note counts for while it sounds, as the ear misses it: the melody first, then
// the bass, then each further note of the harmony (common practice, no source). What
// another voice doubles is missed only if neither is played.
const (
	asTop     = 2.5
	asBottom  = 1.5
	asOctave  = 0.5 // the highest or the lowest in its own octave, beside the octave nearer the middle
	asInner   = 1.0
	asStrokes = 0.5 // of percussion without pitch, a bar with strokes
)

// allTheTime is the weight of a note of the harmony that sounds all through.
const allTheTime = 1_000_000

// need is a note of the whole, over all the time in which the same lines have it.
type need struct {
	weight    int64
	suppliers []supplier
	played    int // by how many players
}

// supplier is a line that has the note, in some of the octaves in which it may be
// played: a bit for each, that of octaves.Farthest for the score's.
type supplier struct {
	line    int
	octaves uint16
}

func octaveBit(octave int) uint16 { return 1 << (octave + octaves.Farthest) }

const anyOctave = 1<<(2*octaves.Farthest+1) - 1

// supplies reports whether the line has the need when it is played in an octave.
func (n *need) supplies(line, octave int) bool {
	i, ok := slices.BinarySearchFunc(n.suppliers, line, func(s supplier, line int) int { return s.line - line })
	return ok && n.suppliers[i].octaves&octaveBit(octave) != 0
}

// needs are what the ear would miss of a score.
type needs []need

// needsOf lists what is to be heard: at every moment the highest note, the lowest, and
// each other pitch class, with the lines that have it. Most of what the highest and the
// lowest count for is also supplied an octave nearer the middle; a line that is played
// octaves away may lose them.
func needsOf(all []*Music) needs {
	notes, length := soundings(all)
	list := needList{place: map[string]int{}}
	sweep(notes, func(time float64, active []sounding) {
		list.moment(active, time/length)
	})
	for i, m := range all {
		if m.Unpitched > 0 {
			list.add([]supplier{{i, anyOctave}}, asStrokes*busyShare(m))
		}
	}
	return list.all
}

// needList gathers needs with the same suppliers into one.
type needList struct {
	all   needs
	place map[string]int
	key   []byte
}

func (l *needList) add(suppliers []supplier, share float64) {
	l.key = l.key[:0]
	for _, s := range suppliers {
		l.key = append(l.key, byte(s.line), byte(s.line>>8), byte(s.octaves), byte(s.octaves>>8))
	}
	at, ok := l.place[string(l.key)]
	if !ok {
		at = len(l.all)
		l.place[string(l.key)] = at
		l.all = append(l.all, need{suppliers: suppliers})
	}
	l.all[at].weight += int64(math.Round(share * allTheTime))
}

// moment adds the needs of notes that sound together for a share of the piece.
func (l *needList) moment(active []sounding, share float64) {
	high, low := active[0].midi, active[0].midi
	for _, n := range active {
		high, low = max(high, n.midi), min(low, n.midi)
	}
	l.add(suppliersOf(active, high, func(octave int) bool { return octave == 0 || octave == -1 }), asTop*share)
	l.add(suppliersOf(active, high, func(octave int) bool { return octave == 0 }), asOctave*share)
	if low != high {
		l.add(suppliersOf(active, low, func(octave int) bool { return octave == 0 || octave == 1 }), asBottom*share)
		l.add(suppliersOf(active, low, func(octave int) bool { return octave == 0 }), asOctave*share)
	}
	for class := range 12 {
		if class == high%12 || class == low%12 {
			continue
		}
		if s := suppliersOf(active, class, func(int) bool { return true }); len(s) > 0 {
			l.add(s, asInner*share)
		}
	}
}

// suppliersOf lists the lines that have a note of the wanted one's pitch class, with
// the octaves in which to play them so that they are as many octaves from it as may be.
func suppliersOf(active []sounding, wanted int, may func(octave int) bool) []supplier {
	var all []supplier
	for _, n := range active {
		if (n.midi-wanted)%12 != 0 {
			continue
		}
		var allowed uint16
		for octave := -octaves.Farthest; octave <= octaves.Farthest; octave++ {
			if may((n.midi-wanted)/12 + octave) {
				allowed |= octaveBit(octave)
			}
		}
		i, known := slices.BinarySearchFunc(all, n.music, func(s supplier, line int) int { return s.line - line })
		if known {
			all[i].octaves |= allowed
		} else if allowed != 0 {
			all = slices.Insert(all, i, supplier{n.music, allowed})
		}
	}
	return all
}

// missed is what one more player of a line, played in an octave, would add: all of what
// nobody plays, half of what one player has, a third of what two have.
func (all needs) missed(line, octave int) int64 {
	sum := int64(0)
	for i := range all {
		if n := &all[i]; n.supplies(line, octave) {
			sum += n.weight / int64(n.played+1)
		}
	}
	return sum
}

// play counts one more player of a line in an octave.
func (all needs) play(line, octave int) {
	for i := range all {
		if all[i].supplies(line, octave) {
			all[i].played++
		}
	}
}

// busyShare is the share of the bars in which something is played.
func busyShare(m *Music) float64 {
	return float64(m.marks.BusyBars()) / float64(max(1, m.Bars))
}
